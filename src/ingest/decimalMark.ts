import type { RawLog, RawTable } from "./adapters/contract.ts";
import { COLUMNS } from "./columns.ts";
import type { Settings } from "./headerSettings.ts";
import { trimmed } from "./logText.ts";
import { type Notebook, quotable, type Refusal } from "./notebook.ts";
import { type DecimalMark, markEvidence } from "./readNumber.ts";

export interface SettledMark {
  readonly mark: DecimalMark;
  /** Declared, so that the other mark can only group thousands. */
  readonly declared: boolean;
  /** Whether it is settled for all rows; else no number so far has a mark. */
  readonly settled: boolean;
}
interface Proof {
  readonly line: number;
  readonly text: string;
}

/** The decimal mark of a log: declared, ruled by the separator, or proved by its cells; else the question. */
export function settleDecimal(raw: RawLog, settings: Settings, notes: Notebook): SettledMark | Refusal {
  const { decimal } = settings;
  if (decimal?.mark === "," && raw.separator === ",")
    return notes.refuse(
      "decimal-is-separator",
      "the decimal mark is declared as a comma but the columns are divided by commas as well; export with semicolons or tabs, or with decimal points",
    );
  if (decimal !== null) {
    notes.decide("decimal", nameOf(decimal.mark), decimal.because);
    return { mark: decimal.mark, declared: true, settled: true };
  }
  if (raw.separator === ",") {
    notes.decide("decimal", "point", "the separator is a comma");
    return { mark: ".", declared: false, settled: true };
  }
  return fromCells(raw, notes);
}

const nameOf = (mark: DecimalMark): string => (mark === "." ? "point" : "comma");

function fromCells(raw: RawLog, notes: Notebook): SettledMark | Refusal {
  const proofs: Partial<Record<"." | "," | "either", Proof>> = {};
  for (const table of raw.tables) collect(table, proofs);
  const { ".": point, ",": comma, either } = proofs;
  if (point && comma)
    return notes.refuse(
      "two-decimal-marks",
      "{pointText} in line {pointLine} has a decimal point and {commaText} in line {commaLine} a decimal comma; say which counts with # decimal: . or # decimal: , above the rows, or export the log again",
      { pointText: point.text, pointLine: point.line, commaText: comma.text, commaLine: comma.line },
    );
  const proof = point ?? comma;
  if (proof !== undefined) {
    const mark: DecimalMark = point ? "." : ",";
    notes.decide("decimal", nameOf(mark), "{text} in line {line} can be read in no other way", { ...proof });
    return { mark, declared: false, settled: true };
  }
  if (either !== undefined)
    return notes.refuse(
      "decimal-mark-unknown",
      "{text} can be {thousand} or {decimal}; write # decimal: . or # decimal: , above the rows, or logs.decimal in the plan",
      {
        text: either.text,
        thousand: either.text.replace(/[.,]/g, ""),
        decimal: either.text.replace(",", "."),
      },
      { line: either.line },
    );
  notes.decide("decimal", "point", "no number in the log has a decimal mark");
  return { mark: ".", declared: false, settled: false };
}

function collect(table: RawTable, proofs: Partial<Record<"." | "," | "either", Proof>>): void {
  const indices = [...table.columns.found]
    .filter(([name]) => name === "value" || COLUMNS[name] !== null)
    .map(([, column]) => column.index);
  for (const [row, cells] of table.rows.entries())
    for (const index of indices) {
      const cell = cells[index];
      if (cell === undefined) continue;
      const evidence = markEvidence(cell);
      if (evidence === "none" || proofs[evidence] !== undefined) continue;
      proofs[evidence] = { line: table.lines[row] ?? 0, text: quotable(trimmed(cell)) };
    }
}
