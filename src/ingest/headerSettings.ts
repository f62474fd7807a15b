import type { State, SweepKind } from "../model/measurement.ts";
import type { AxisName, FeaturePlan, LogsPlan, Plan } from "../model/plan/plan.ts";
import type { Separator } from "./adapters/contract.ts";
import type { Header } from "./header.ts";
import { lengthUnit } from "./headerKeys.ts";
import { foldedWord, WORDS, type WordKey, type WordTypes } from "./headerWords.ts";
import { isRefusal, listed, type Notebook, quotable, type Refusal } from "./notebook.ts";
import type { DecimalMark } from "./readNumber.ts";

interface StatedUnit {
  readonly name: string;
  readonly because: string;
  /** By the log itself; the plan's is that of a log that states none. */
  readonly byLog: boolean;
}
/** What header and plan say about the whole log; lengths and angles come later, when the decimal mark is known. */
export interface Settings {
  readonly header: Header;
  readonly plan: Plan | null;
  readonly logs: LogsPlan | null;
  /** Unit of lengths from the header or the plan, with where it stands. */
  readonly unit: StatedUnit | null;
  readonly state: State;
  readonly points: "surface" | "ball-center" | null;
  readonly frame: "machine" | "work" | null;
  readonly sign: "toward-plus" | "toward-minus";
  readonly signDeclared: boolean;
  readonly decimal: { readonly mark: DecimalMark; readonly because: string } | null;
  readonly from: SweepKind | null;
  readonly surface: "bore" | "boss" | null;
  readonly along: AxisName | null;
  readonly height: AxisName | null;
  readonly clamping: WordTypes["clamping"] | null;
}

export const headerLine = (line: number): string => `header line ${line}`;

/** The word that the header has under `key`; null when it has none. */
export function headerWord<Key extends WordKey>(
  header: Header,
  key: Key,
  notes: Notebook,
): { readonly word: WordTypes[Key]; readonly line: number } | Refusal | null {
  const entry = header.get(key);
  if (entry === undefined) return null;
  const words: Readonly<Record<string, WordTypes[Key]>> = WORDS[key];
  const folded = foldedWord(entry.value);
  const word = Object.hasOwn(words, folded) ? words[folded] : undefined;
  if (word !== undefined) return { word, line: entry.line };
  return notes.refuse(
    `unknown-${key}`,
    "{key}: {value} is none of {words}; write one of them, or leave the line out",
    {
      key,
      value: quotable(entry.value),
      words: listed([...new Set(Object.values(words).map(String))].map(shown), "and"),
    },
    { line: entry.line },
  );
}
const shown = (word: string): string => ({ ".": '"."', ",": '","', ";": '";"', "\t": "tab" })[word] ?? word;

export function readSettings(header: Header, plan: Plan | null, notes: Notebook): Settings | Refusal {
  const logs = plan?.logs ?? null;
  const words = {
    state: headerWord(header, "state", notes),
    points: headerWord(header, "points", notes),
    frame: headerWord(header, "frame", notes),
    sign: headerWord(header, "sign", notes),
    decimal: headerWord(header, "decimal", notes),
    from: headerWord(header, "from", notes),
    surface: headerWord(header, "surface", notes),
    along: headerWord(header, "along", notes),
    height: headerWord(header, "height", notes),
    clamping: headerWord(header, "clamping", notes),
  };
  for (const word of Object.values(words)) if (isRefusal(word)) return word;
  const get = <Word>(found: { readonly word: Word; readonly line: number } | Refusal | null) =>
    found === null || isRefusal(found) ? null : found;
  const unit = headerUnit(header, logs, notes);
  if (isRefusal(unit)) return unit;
  const state = get(words.state);
  const frame = get(words.frame);
  const sign = get(words.sign);
  const decimal = get(words.decimal);
  notes.decide("state", state?.word ?? "as-left", state ? headerLine(state.line) : "the log names no state");
  if (frame) notes.decide("frame", frame.word, headerLine(frame.line));
  else if (logs?.frame) notes.decide("frame", logs.frame, "declared in the plan");
  return {
    header,
    plan,
    logs,
    unit,
    state: state?.word ?? "as-left",
    points: get(words.points)?.word ?? null,
    frame: frame?.word ?? logs?.frame ?? null,
    sign: sign?.word ?? logs?.sign ?? "toward-plus",
    signDeclared: sign !== null || (logs?.sign ?? null) !== null,
    decimal: decimal
      ? { mark: decimal.word, because: headerLine(decimal.line) }
      : logs?.decimal
        ? { mark: logs.decimal, because: "declared in the plan" }
        : null,
    from: get(words.from)?.word ?? null,
    surface: get(words.surface)?.word ?? null,
    along: get(words.along)?.word ?? null,
    height: get(words.height)?.word ?? null,
    clamping: get(words.clamping)?.word ?? null,
  };
}

function headerUnit(header: Header, logs: LogsPlan | null, notes: Notebook): Settings["unit"] | Refusal {
  const entry = header.get("unit");
  if (entry === undefined)
    return logs?.unit ? { name: logs.unit, because: "declared in the plan", byLog: false } : null;
  const name = lengthUnit(entry.value);
  if (name === null)
    return notes.refuse(
      "unknown-unit",
      "unit: {value} is no unit of length; write mm or in",
      { value: quotable(entry.value) },
      { line: entry.line },
    );
  if (logs?.unit && logs.unit !== name)
    notes.notice(
      "warning",
      "unit-differs-from-plan",
      "the header says {unit} and the plan's logs.unit says {planned}; the header counts",
      { unit: name, planned: logs.unit },
      { line: entry.line },
    );
  return { name, because: headerLine(entry.line), byLog: true };
}

/** The separator that header or plan declare. */
export function declaredSeparator(
  header: Header,
  logs: LogsPlan | null,
  notes: Notebook,
): { readonly mark: Separator; readonly because: string } | Refusal | null {
  const found = headerWord(header, "separator", notes);
  if (isRefusal(found)) return found;
  if (found !== null) return { mark: found.word, because: headerLine(found.line) };
  return logs?.separator ? { mark: logs.separator, because: "declared in the plan" } : null;
}

/** The plan's entry for a feature, never something every object has. */
export function featurePlan(plan: Plan | null, name: string): FeaturePlan | null {
  return plan !== null && Object.hasOwn(plan.features, name) ? (plan.features[name] ?? null) : null;
}
