import { type Said, say } from "../model/say.ts";
import type { RawTable } from "./adapters/contract.ts";
import { isBlank } from "./logText.ts";
import { counted, type Notebook } from "./notebook.ts";

/**
 * Looks for rows that say word for word what an earlier row said. With a time or a point label the same touch was
 * logged twice: the repeat is left out. Without them it may be a touch on purpose: it is kept, and said.
 */
export class RepeatedRows {
  readonly #seen = new Map<string, number>();
  readonly #labels: readonly number[];
  readonly #remembers: boolean;
  #last = "";
  #lastLine = 0;
  #kept = 0;
  #firstKept = 0;

  /** @param remembers every row, or only the one before */
  constructor(table: RawTable, remembers: boolean) {
    this.#remembers = remembers;
    this.#labels = (["time", "point"] as const).flatMap((name) => table.columns.found.get(name)?.index ?? []);
  }

  /** A row that says nothing said before: it is only remembered. */
  remember(cells: readonly string[], line: number): void {
    this.#last = cells.join("\u0001");
    this.#lastLine = line;
  }

  check(cells: readonly string[], line: number): Said | null {
    const key = cells.join("\u0001");
    const earlier = this.#remembers ? this.#seen.get(key) : key === this.#last ? this.#lastLine : undefined;
    this.#last = key;
    this.#lastLine = line;
    if (earlier === undefined) {
      if (this.#remembers) this.#seen.set(key, line);
      return null;
    }
    if (this.#labels.some((index) => !isBlank(cells[index] ?? "")))
      return say("the same as line {earlier}, word for word: logged twice", { earlier });
    this.#kept++;
    if (this.#firstKept === 0) this.#firstKept = line;
    return null;
  }

  tell(notes: Notebook): void {
    if (this.#kept > 0)
      notes.notice(
        "warning",
        "repeated-rows",
        "{count} word for word like an earlier row, without a time or label to tell them apart: kept",
        { count: counted(this.#kept, "row") },
        { line: this.#firstKept },
      );
  }
}
