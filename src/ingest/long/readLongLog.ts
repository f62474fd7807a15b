import type { LogFile, UnderstoodLog } from "../../model/measurement.ts";
import type { Plan } from "../../model/plan/plan.ts";
import type { RawTable } from "../adapters/contract.ts";
import { isSimplyQuoted } from "../cells.ts";
import { declaredSeparator } from "../headerSettings.ts";
import { partOf } from "../logBytes.ts";
import { LARGEST_WHOLE, lookAtBytes } from "../lookAtBytes.ts";
import { isRefusal, Notebook, type Refusal } from "../notebook.ts";
import { type OpenedLog, openLog } from "../openLog.ts";
import { exclusionsOf } from "../walkRows.ts";
import { RowsToCome } from "./rowsToCome.ts";

const LF = 10;
const CR = 13;
const QUOTE = 34;

type Make = (opened: OpenedLog) => UnderstoodLog | Refusal;
export interface LongOptions {
  /** In bytes; shorter logs are read as one text. */
  readonly longer: number;
  /** Bytes from which everything but the rows themselves is settled. */
  readonly start: number;
  /** Bytes of rows that are read at once. */
  readonly part: number;
  /** In bytes; in longer logs rows are compared with the one before only. */
  readonly comparesAll: number;
  /** Rows that fit into memory: a touch takes up to 48 bytes until it is judged. */
  readonly mostRows: number;
}
export const LONG_LOGS: LongOptions = {
  longer: 4_000_000,
  start: 65_536,
  part: 1 << 20,
  comparesAll: 4_000_000,
  mostRows: 80_000_000,
};

/**
 * Reads a long log of plain rows straight from its bytes, part by part: its start settles what the rows mean, by the same
 * road as any log. The result is the same to the last bit. Null when the log is short, or when something in it has to be
 * looked at as a whole and it is small enough for that.
 * @param make makes the log of what its start settled
 */
export function readLongLog(
  file: LogFile,
  plan: Plan | null,
  make: Make,
  options: LongOptions,
): UnderstoodLog | Refusal | null {
  if (file.bytes.length <= options.longer) return null;
  const whole = file.bytes.length <= LARGEST_WHOLE;
  const notes = new Notebook(file.name);
  if (!whole) {
    const hopeless = lookAtBytes(file, notes);
    if (hopeless !== null) return hopeless;
  }
  const opened = openStart(file, plan, notes, options);
  if (opened === null || isRefusal(opened)) return whole ? null : (opened ?? tooLarge(file, notes, 1));
  const rest = opened.raw.tables[0]?.rest;
  const made = make(opened);
  if (rest?.tooMany && rest.stoppedAt !== null)
    return notes.refuse(
      "too-large",
      "the log holds more than {most} million rows, and so many do not fit into memory; split it, or touch fewer places",
      { most: options.mostRows / 1e6 },
      { line: rest.stoppedAt },
    );
  // What is refused is looked at as a whole, so that the sentence is the same.
  if (whole && isRefusal(made)) return null;
  if (rest === undefined || rest.stoppedAt === null) return made;
  return whole ? null : tooLarge(file, new Notebook(file.name), rest.stoppedAt);
}

const tooLarge = ({ bytes }: LogFile, notes: Notebook, line: number): Refusal =>
  notes.refuse(
    "too-large",
    "of a log of {size} MB, more than {largest}, only plain rows below one line of column names are read, and this line is none; split the log, or export it without remarks, units and line breaks between the rows",
    { size: Math.round(bytes.length / 1e6), largest: LARGEST_WHOLE / 1e6 },
    { line },
  );

/** What the first lines settle, with the rest of the rows to come; null when the rows are not plain ones. */
function openStart(
  file: LogFile,
  plan: Plan | null,
  notes: Notebook,
  { start, part, mostRows }: LongOptions,
): OpenedLog | Refusal | null {
  const some = partOf(file, 0, start);
  const end = some.lastIndexOf(LF) + 1;
  if (end === 0) return null;
  // What the plan puts into rows or leaves out by their cells is looked at as a whole.
  if (plan !== null && Object.keys({ ...plan.logs.constant, ...plan.logs.keep }).length > 0) return null;
  const bytes = some.slice(0, end);
  // Not the log's own hash, which is worked out while its rows are read.
  const opened = openLog({ name: file.name, bytes, sha256: "" }, plan, notes);
  if (isRefusal(opened)) return opened;
  const { raw, context } = opened;
  const [table, second] = raw.tables;
  const crlf = bytes[end - 2] === CR;
  const { separator } = raw;
  if (table === undefined || second !== undefined || separator === null) return null;
  const lines = bytes.includes(QUOTE) ? context.text.text.split("\n") : [];
  if (!lines.every((line) => isSimplyQuoted(line, separator))) return null;
  if (!isPlain(table, opened, crlf)) return null;
  const declared = declaredSeparator(opened.header, plan?.logs ?? null, new Notebook(file.name));
  const rest = new RowsToCome({
    file,
    from: end,
    line: context.text.lineCount + 1,
    columns: table.columns,
    kind: table.kind,
    separator,
    declared: declared === null || isRefusal(declared) ? null : declared.mark,
    mapping: { columns: plan?.logs.columns ?? {}, constants: new Map() },
    crlf,
    part,
    mostRows,
    excluded: new Set(exclusionsOf(plan, file.name).map((entry) => entry.line)),
  });
  return {
    ...opened,
    exact: null,
    raw: { ...raw, tables: [{ ...table, rest }] },
    context,
  };
}

/** Touches in columns, with everything settled that later rows could still change. */
function isPlain(table: RawTable, { raw, context }: OpenedLog, crlf: boolean): boolean {
  const settled = new Map(context.notes.decisions.map((entry) => [entry.what, entry.value]));
  return (
    table.kind.kind === "probe" &&
    table.title === null &&
    settled.get("shape") === "csv" &&
    settled.get("encoding") === "UTF-8" &&
    settled.get("line ends") === (crlf ? "CRLF" : "LF") &&
    table.rows.length > 0 &&
    table.broken.size === 0 &&
    (raw.insideCells?.size ?? 0) === 0 &&
    context.mark.settled
  );
}
