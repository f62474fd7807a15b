import type { LogFile } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import type { LogSource, RawLog } from "./adapters/contract.ts";
import { ADAPTERS } from "./adapters/index.ts";
import { settleDecimal } from "./decimalMark.ts";
import { decodeLog } from "./decodeLog.ts";
import { commentsOf, type Header, readHeader } from "./header.ts";
import { pairOf } from "./headerKeys.ts";
import { readQuantities } from "./headerQuantities.ts";
import { declaredSeparator, readSettings } from "./headerSettings.ts";
import type { KindContext } from "./kinds/contract.ts";
import { LogText } from "./logText.ts";
import { isRefusal, listed, type Notebook, type Refusal } from "./notebook.ts";
import { keepRows, mappingOf, onlyRows } from "./planMapping.ts";
import { surveyLog } from "./survey.ts";
import { unitWordsOf } from "./unitWords.ts";
import { RowCount } from "./walkRows.ts";

/** A log whose shape, header and marks are settled, before its cells become readings. */
export interface OpenedLog {
  readonly raw: RawLog;
  readonly header: Header;
  readonly context: KindContext;
  /** The exact text when the bytes are UTF-8. */
  readonly exact: string | null;
}

/** In bytes. */
const LONGEST_TEXT = 4_000_000;

/** Settles encoding, shape, header, decimal mark and stated quantities, or asks the one question that stands in the way. */
export function openLog(file: LogFile, plan: Plan | null, notes: Notebook): OpenedLog | Refusal {
  const decoded = decodeLog(file, notes);
  if (isRefusal(decoded)) return decoded;
  const text = new LogText(decoded.text);
  const source = sourceOf(file.name, text, plan, notes);
  if (isRefusal(source)) return source;
  const whole = readShape(source, notes);
  if (isRefusal(whole)) return whole;
  const raw = keepRows(withoutLines(whole, source.unitWords), source.plan, notes);
  if (isRefusal(raw)) return raw;
  const comments = source.comments.filter((comment) => raw.insideCells?.has(comment.line) !== true);
  const words = [...source.unitWords].map(([line, unit]) => ({ line, text: `unit: ${unit}` }));
  const stated = [...comments, ...(raw.header ?? []), ...words].sort((one, other) => one.line - other.line);
  const header = readHeader(stated, raw.firstRowLine, notes);
  if (isRefusal(header)) return header;
  const context = contextOf({ file, text, raw, header, plan, notes });
  if (isRefusal(context)) return context;
  // A longer text is not kept beside the readings.
  const exact = file.bytes.length > LONGEST_TEXT ? null : decoded.exact;
  return { raw, header, context, exact };
}

/** Without the rows that are lines of another meaning. */
function withoutLines(raw: RawLog, lines: ReadonlyMap<number, unknown>): RawLog {
  if (lines.size === 0) return raw;
  const tables = raw.tables.map((table) => onlyRows(table, (row) => !lines.has(table.lines[row] ?? 0)));
  const first = Math.min(...tables.map((table) => table.lines[0] ?? Number.POSITIVE_INFINITY));
  return { ...raw, tables, firstRowLine: Math.max(raw.firstRowLine, first) };
}

/** What the shelf may know of a text before one of its members reads it. */
export function sourceOf(
  name: string,
  text: LogText,
  plan: Plan | null,
  notes: Notebook,
): LogSource | Refusal {
  const comments = commentsOf(text);
  const logs = plan?.logs ?? null;
  // The separator must be known before the first row is, so the other keys wait.
  const early = readHeader(
    comments.filter((comment) => pairOf(comment.text)?.key === "separator"),
    Number.POSITIVE_INFINITY,
    notes,
  );
  if (isRefusal(early)) return early;
  const separator = declaredSeparator(early, logs, notes);
  if (isRefusal(separator)) return separator;
  const skipRows = logs?.skipRows ?? 0;
  const unitWords = unitWordsOf(text, skipRows);
  const mapping = mappingOf(logs, notes);
  if (isRefusal(mapping)) return mapping;
  const skipped = (line: number): boolean => line <= skipRows || unitWords.has(line);
  const survey = surveyLog(text, skipped, mapping, separator?.mark ?? null);
  return { name, text, comments, separator, plan: logs, mapping, unitWords, survey };
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
  return {
    name: file.name,
    comparesAll: true,
    text,
    notes,
    count: new RowCount(),
    settings,
    mark,
    quantities,
  };
}
