import type { LogFile, LogRecord, RejectedLog, UnderstoodLog } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { say } from "../model/say.ts";
import type { RawLog } from "./adapters/contract.ts";
import type { Header } from "./header.ts";
import { isoTime } from "./isoTime.ts";
import type { KindContext, KindResult } from "./kinds/contract.ts";
import { KIND_READERS } from "./kinds/index.ts";
import { isRefusal, Notebook, quotable, type Refusal } from "./notebook.ts";
import { openLog } from "./openLog.ts";

/**
 * A log as the file gives it, made into readings in mm and radians, with how each thing about it was decided; or the
 * one sentence that says what must be answered before it can be understood. Touches no file and no clock.
 */
export function understandLog(file: LogFile, plan: Plan | null): UnderstoodLog | RejectedLog {
  const notes = new Notebook(file.name);
  const understood = understand(file, plan, notes);
  return isRefusal(understood)
    ? { ok: false, name: file.name, sha256: file.sha256, finding: understood.finding }
    : understood;
}

function understand(file: LogFile, plan: Plan | null, notes: Notebook): UnderstoodLog | Refusal {
  const opened = openLog(file, plan, notes);
  if (isRefusal(opened)) return opened;
  const { raw, header, context, exact } = opened;
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
  if (isRefusal(result) || result.features.length + result.signOffs.length > 0) return result;
  const [first] = count.excluded;
  return notes.refuse(
    "no-rows",
    "no row of {count} can be read: {reason}; correct the log or say in the plan what its columns are",
    { count: count.rows, reason: first?.reason.text ?? "they are empty" },
    first === undefined ? {} : { line: first.line },
  );
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
    sha256: file.sha256,
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
