import type { LogFile, LogRecord, RejectedLog, UnderstoodLog } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { say } from "../model/say.ts";
import type { RawLog } from "./adapters/contract.ts";
import type { Header } from "./header.ts";
import { isoTime } from "./isoTime.ts";
import type { KindContext, KindResult } from "./kinds/contract.ts";
import { KIND_READERS } from "./kinds/index.ts";
import { LONG_LOGS, type LongOptions, readLongLog } from "./long/readLongLog.ts";
import { isRefusal, Notebook, quotable, type Refusal } from "./notebook.ts";
import { type OpenedLog, openLog } from "./openLog.ts";

/**
 * A log as the file gives it, made into readings in mm and radians, with how each thing about it was decided; or the
 * one sentence that says what must be answered before it can be understood. Touches no file and no clock.
 * @param long from which length on a log is read part by part
 */
export function understandLog(
  file: LogFile,
  plan: Plan | null,
  long: LongOptions = LONG_LOGS,
): UnderstoodLog | RejectedLog {
  const understood = understand(file, plan, long);
  if (!isRefusal(understood)) return understood;
  const { finding } = understood;
  // The hash of a long log is worked out when it is asked for.
  return {
    ok: false,
    name: file.name,
    get sha256() {
      return file.sha256;
    },
    finding,
  };
}

function understand(file: LogFile, plan: Plan | null, options: LongOptions): UnderstoodLog | Refusal {
  const made = (opened: OpenedLog): UnderstoodLog | Refusal =>
    madeOf(file, opened, file.bytes.length <= options.comparesAll);
  const long = readLongLog(file, plan, made, options);
  if (long !== null) return long;
  const opened = openLog(file, plan, new Notebook(file.name));
  return isRefusal(opened) ? opened : made(opened);
}

function madeOf(file: LogFile, opened: OpenedLog, comparesAll: boolean): UnderstoodLog | Refusal {
  const { raw, header, exact } = opened;
  const context = { ...opened.context, comparesAll };
  const { notes } = context;
  const result = readKind(raw, context);
  if (isRefusal(result)) return result;
  return {
    ok: true,
    record: recordOf({ file, raw, header, context, result, exact }),
    features: result.features,
    signOffs: result.signOffs,
    findings: notes.findings,
  };
}

function readKind(raw: RawLog, context: KindContext): KindResult | Refusal {
  const { notes, count } = context;
  const kind = raw.tables[0]?.kind.kind;
  const reader = KIND_READERS.find((candidate) => candidate.kind === kind);
  if (reader === undefined) throw new RangeError(`no reader for logs of kind ${kind}`);
  if (raw.tables.every((table) => table.rows.length === 0))
    return notes.refuse(
      "no-rows",
      "there are column names but no rows below them; expected readings, so export the log again",
    );
  notes.decide("kind", reader.kind, "the columns it has");
  const result = reader.read(raw, context);
  tellLeftOut(context);
  if (isRefusal(result) || result.features.length + result.signOffs.length > 0) return result;
  const [first] = count.excluded;
  return notes.refuse(
    "no-rows",
    "no row of {count} can be read: {reason}; correct the log or say in the plan what its columns are",
    { count: count.rows, reason: first?.reason.text ?? "they are empty" },
    first === undefined ? {} : { line: first.line },
  );
}

/** A row that cannot be used is never passed over in silence. */
function tellLeftOut({ count, notes }: KindContext): void {
  const [first] = count.untold;
  if (first === undefined) return;
  const text =
    count.untold.length === 1
      ? "the row was left out: {reason}"
      : "{count} rows were left out, the first: {reason}";
  const values = { count: count.untold.length, reason: first.reason };
  notes.notice("warning", "rows-left-out", text, values, { line: first.line });
}

interface RecordParts {
  readonly file: LogFile;
  readonly raw: RawLog;
  readonly header: Header;
  readonly context: KindContext;
  readonly result: KindResult;
  readonly exact: string | null;
}

function recordOf({ file, raw, header, context, result, exact }: RecordParts): LogRecord {
  const { notes, count } = context;
  return {
    name: file.name,
    get sha256() {
      return file.sha256;
    },
    kind: raw.tables[0]?.kind.kind ?? "probe",
    rows: count.rows,
    used: count.used,
    excluded: [...count.excluded].sort((one, other) => one.line - other.line),
    time: timeOf(file, header, result.firstTime, notes),
    decisions: notes.decisions,
    header: Object.fromEntries([...header].map(([key, entry]) => [key, entry.value])),
    text: exact,
  };
}

/** Header `time`, else the first row's, else when the file was seen. A day that could be a month is not used. */
function timeOf(file: LogFile, header: Header, firstTime: string | null, notes: Notebook): string | null {
  const entry = header.get("time");
  const stated = entry === undefined ? null : isoTime(entry.value);
  if (entry !== undefined && stated === null)
    notes.findings.push({
      level: "warning",
      code: "time-not-read",
      text: say(
        "time: {value} is not written year first, such as 2026-11-25T07:00:00Z, and does not order this log",
        {
          value: quotable(entry.value),
        },
      ),
      log: file.name,
      line: entry.line,
    });
  if (entry !== undefined && stated !== null) return decided(stated, `header line ${entry.line}`, notes);
  const ofRow = firstTime === null ? null : isoTime(firstTime);
  if (ofRow !== null) return decided(ofRow, "time of the first row", notes);
  const seen = file.seen === undefined ? null : isoTime(file.seen);
  return seen === null ? null : decided(seen, "when the file was last written or first seen", notes);
}

function decided(time: string, because: string, notes: Notebook): string {
  notes.decide("time", time, because);
  return time;
}
