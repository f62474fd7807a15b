import type { Plan } from "../model/plan/plan.ts";
import { type Notebook, quotable, type Refusal } from "./notebook.ts";

/** Rows in one sequence, each with its line. */
interface Lines {
  readonly line: { readonly length: number; at(index: number): number | undefined };
}
/** Where the column names stand again amid the rows of one feature. */
interface Seam<Rows> {
  readonly name: string;
  readonly rows: Rows;
  /** Rows of the feature above it. */
  readonly above: number;
}
interface Run<Rows> {
  readonly rows: Rows;
  readonly line: number;
}
export interface Measured<Rows> {
  readonly name: string;
  readonly rows: Rows;
  /** Later touches of the same feature, to see whether anything moved meanwhile. */
  readonly closure: Rows | null;
}

/** Rows of one feature that stand together; a return to a feature starts another run of it. */
export class Runs<Rows extends Lines> {
  readonly #runs = new Map<string, Run<Rows>[]>();
  readonly #seams: Seam<Rows>[] = [];
  readonly #make: () => Rows;
  readonly #samePlace: (rows: Rows, one: number, other: number) => boolean;
  #name: string | null = null;
  #rows: Rows | null = null;

  /** `samePlace` says whether two rows were taken at one place, as far as a programme that runs again can tell. */
  constructor(make: () => Rows, samePlace: (rows: Rows, one: number, other: number) => boolean) {
    this.#make = make;
    this.#samePlace = samePlace;
  }

  /** Column names stand again: what has a title starts anew, other rows go on unless they start over. */
  nextTable(titled: boolean, plan: Plan | null): void {
    if (this.#name === null || this.#rows === null) return;
    if (titled || plan?.closure.includes(this.#name) === true) this.#name = null;
    else this.#seams.push({ name: this.#name, rows: this.#rows, above: this.#rows.line.length });
  }

  /** The rows that were joined last. */
  get latest(): Rows | null {
    return this.#rows;
  }

  /** The rows that a row of feature `name` in this line joins. */
  at(name: string, line: number): Rows {
    if (this.#name === name && this.#rows !== null) return this.#rows;
    const rows = this.#make();
    const runs = this.#runs.get(name);
    if (runs === undefined) this.#runs.set(name, [{ rows, line }]);
    else runs.push({ rows, line });
    this.#name = name;
    this.#rows = rows;
    return rows;
  }

  /** One entry for each feature with the closure that plan or name declare; any other return is refused. */
  settle(plan: Plan | null, notes: Notebook): readonly Measured<Rows>[] | Refusal {
    const over = this.#seams.find((seam) => this.#startsOver(seam));
    if (over !== undefined)
      return notes.refuse(
        "run-again",
        "below the column names that stand here again {name} starts over at the place of line {first}; if the run was broken off or repeated, keep the rows that count, if it is a closure, say closure: {name} in the plan",
        { name: quotable(over.name), first: over.rows.line.at(0) ?? 0 },
        { line: over.rows.line.at(over.above) ?? 0, feature: over.name },
      );
    const measured: Measured<Rows>[] = [];
    for (const [name, [first, ...later]] of this.#runs) {
      if (first === undefined || this.#isClosureName(name, plan)) continue;
      const named = this.#runs.get(`${name}-closure`)?.at(-1);
      const last = later.at(-1);
      if (last !== undefined && plan?.closure.includes(name) !== true)
        return notes.refuse(
          "feature-twice",
          "{name} is measured again here after other rows; if this is a closure, say closure: {name} in the plan or name these rows {name}-closure, else give the rows a name of their own",
          { name: quotable(name) },
          { line: later[0]?.line ?? last.line, feature: name },
        );
      const closure = last ?? (this.#isClosureName(`${name}-closure`, plan) ? named : undefined);
      if (closure !== undefined)
        notes.decide(
          "closure",
          name,
          last !== undefined
            ? `declared in the plan; lines from ${closure.line}`
            : `rows named ${name}-closure from line ${closure.line}`,
        );
      measured.push({ name, rows: first.rows, closure: closure?.rows ?? null });
    }
    return measured;
  }

  /** A single row at the first place closes a sweep; two that follow the first two are the same run again. */
  #startsOver({ rows, above }: Seam<Rows>): boolean {
    const below = rows.line.length - above;
    const compared = Math.min(2, above);
    if (above < 1 || below < compared) return false;
    for (let at = 0; at < compared; at++) if (!this.#samePlace(rows, at, above + at)) return false;
    return true;
  }

  #isClosureName(name: string, plan: Plan | null): boolean {
    const of = name.replace(/-closure$/, "");
    return of !== name && this.#runs.has(of) && !(plan !== null && Object.hasOwn(plan.features, name));
  }
}
