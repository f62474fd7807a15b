import type { LogFile, LogRecord, RejectedLog, UnderstoodLog } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import { say } from "../model/say.ts";
import type { LogSource, RawLog } from "./adapters/contract.ts";
import { ADAPTERS } from "./adapters/index.ts";
import { settleDecimal } from "./decimalMark.ts";
import { decodeLog } from "./decodeLog.ts";
import { commentsOf, type Header, readHeader } from "./header.ts";
import { readQuantities } from "./headerQuantities.ts";
import { declaredSeparator, readSettings } from "./headerSettings.ts";
import { isoTime } from "./isoTime.ts";
import type { KindContext, KindResult } from "./kinds/contract.ts";
import { KIND_READERS } from "./kinds/index.ts";
import { LogText } from "./logText.ts";
import { isRefusal, listed, Notebook, quotable, type Refusal } from "./notebook.ts";
import { surveyLog } from "./survey.ts";
import { RowCount } from "./walkRows.ts";

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
  const decoded = decodeLog(file, notes);
  if (isRefusal(decoded)) return decoded;
  const text = new LogText(decoded.text);
  const source = sourceOf(file.name, text, plan, notes);
  if (isRefusal(source)) return source;
  const raw = readShape(source, notes);
  if (isRefusal(raw)) return raw;
  const comments = source.comments.filter((comment) => raw.insideCells?.has(comment.line) !== true);
  const header = readHeader([...comments, ...(raw.header ?? [])], raw.firstRowLine, notes);
  if (isRefusal(header)) return header;
  const context = contextOf({ file, text, raw, header, plan, notes });
  if (isRefusal(context)) return context;
  const result = readKind(raw, context);
  if (isRefusal(result)) return result;
  return {
    ok: true,
    record: recordOf({ file, raw, header, context, result, exact: decoded.exact }),
    features: result.features,
    signOffs: result.signOffs,
    findings: notes.findings,
  };
}

function sourceOf(name: string, text: LogText, plan: Plan | null, notes: Notebook): LogSource | Refusal {
  const comments = commentsOf(text);
  const logs = plan?.logs ?? null;
  // The separator must be known before the first row is, so the other keys wait.
  const early = readHeader(
    comments.filter((comment) => /^separator\s*:/i.test(comment.text)),
    Number.POSITIVE_INFINITY,
    notes,
  );
  if (isRefusal(early)) return early;
  const separator = declaredSeparator(early, logs, notes);
  if (isRefusal(separator)) return separator;
  const survey = surveyLog(text, logs?.skipRows ?? 0, logs?.columns ?? {}, separator?.mark ?? null);
  return { name, text, comments, separator, plan: logs, survey };
}

function readShape(source: LogSource, notes: Notebook): RawLog | Refusal {
  const knowing = ADAPTERS.flatMap((adapter) => {
    const evidence = adapter.recognise(source);
    return evidence === null ? [] : [{ adapter, evidence }];
  });
  const [first, second] = knowing;
  if (first === undefined)
    return notes.refuse(
      "unknown-shape",
      "no line names the columns of a log; expected one such as feature,x,y,z or sweep,angle,reading or check,value, or a mapping in the plan's logs.columns",
    );
  if (second !== undefined)
    return notes.refuse(
      "two-shapes",
      "the log can be read in more than one way: {ways}; put a line of column names above the rows",
      { ways: listed(knowing.map(({ adapter, evidence }) => `${adapter.id} (${evidence})`)) },
    );
  notes.decide("shape", first.adapter.id, "{evidence}", { evidence: first.evidence });
  return first.adapter.read(source, notes);
}

interface Parts {
  readonly file: LogFile;
  readonly text: LogText;
  readonly raw: RawLog;
  readonly header: Header;
  readonly plan: Plan | null;
  readonly notes: Notebook;
}

function contextOf({ file, text, raw, header, plan, notes }: Parts): KindContext | Refusal {
  const settings = readSettings(header, plan, notes);
  if (isRefusal(settings)) return settings;
  const mark = settleDecimal(raw, settings, notes);
  if (isRefusal(mark)) return mark;
  const quantities = readQuantities(settings, mark.mark, notes);
  if (isRefusal(quantities)) return quantities;
  return { name: file.name, text, notes, count: new RowCount(), settings, mark, quantities };
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
