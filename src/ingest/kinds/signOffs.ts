import type { SignOffReading } from "../../model/measurement.ts";
import { unitOf } from "../../model/quantity.ts";
import { type Said, say } from "../../model/say.ts";
import type { RawTable } from "../adapters/contract.ts";
import type { ColumnName } from "../columns.ts";
import { isBlank, trimmed } from "../logText.ts";
import { quotable, withoutControls } from "../notebook.ts";
import { readNumber } from "../readNumber.ts";
import { walkRows } from "../walkRows.ts";
import type { KindContext, KindReader } from "./contract.ts";
import { walkContext } from "./measuredFeature.ts";

/** Things a person confirmed or read off: `check value`. */
export const signOffs: KindReader = {
  kind: "sign-offs",
  read(raw, context) {
    const found: SignOffReading[] = [];
    let firstTime: string | null = null;
    for (const table of raw.tables) {
      walkRows(table, walkContext(context), {
        visit: (cells, line) => takeRow(cells, line, table, context, found),
      });
      const time = table.columns.found.get("time")?.index;
      if (time !== undefined) firstTime ??= table.rows[0]?.[time] ?? null;
    }
    return { features: [], signOffs: lastOfEach(found, context), firstTime };
  },
};

function takeRow(
  cells: readonly string[],
  line: number,
  table: RawTable,
  context: KindContext,
  found: SignOffReading[],
): Said | null {
  const text = (name: ColumnName): string | null => {
    const index = table.columns.found.get(name)?.index;
    const cell = index === undefined ? "" : withoutControls(trimmed(cells[index] ?? "")).trim();
    return cell === "" ? null : cell;
  };
  const check = text("check");
  const written = text("value");
  if (check === null) return say("the check is not named");
  if (written === null) return say("{check} has no value", { check: quotable(check) });
  const value = readValue(written, text("unit"), context);
  if ("template" in value) return value;
  found.push({ check, ...value, by: text("by"), time: text("time"), note: text("note"), log: 0, line });
  return null;
}

/** A number in the log's own decimal mark becomes one with a point; words stay as they are. */
function readValue(
  written: string,
  unit: string | null,
  { mark }: KindContext,
): { value: string; unit: string | null } | Said {
  const read = readNumber(written, mark.mark, mark.declared);
  if (!read.ok) {
    // What begins like a number and is none must not pass as a word.
    if (/^[+\-\u2212]?[\d.,]/.test(written) || isBlank(written)) return read.reason;
    return { value: written, unit };
  }
  const digits = read.odd === undefined && mark.mark === "." ? numberPart(written) : String(read.value);
  if (read.unit === "") return { value: digits, unit };
  const itsUnit = quotable(read.unit);
  if (unit !== null && !sameUnit(unit, read.unit))
    return say("the value {written} says {itsUnit} and its unit column {unit}", {
      written: quotable(written),
      itsUnit,
      unit: quotable(unit),
    });
  return { value: digits, unit: unit ?? itsUnit };
}

const numberPart = (written: string): string => /^[+-]?[\d.]+(?:[eE][+-]?\d+)?/.exec(written)?.[0] ?? written;
const DIMENSIONS = ["length", "angle", "torque", "pressure", "force", "mass", "temperature"] as const;
const sameUnit = (one: string, other: string): boolean =>
  one === other ||
  DIMENSIONS.some(
    (dimension) => unitOf(one, dimension) !== null && unitOf(one, dimension) === unitOf(other, dimension),
  );

/** A check written twice counts as written last. */
function lastOfEach(
  found: readonly SignOffReading[],
  { notes, count }: KindContext,
): readonly SignOffReading[] {
  return found.filter((entry, at) => {
    const later = found.slice(at + 1).find((other) => other.check === entry.check);
    if (later === undefined) return true;
    count.takeBack(
      entry.line,
      say("{check} is answered again in line {line}, which counts", {
        check: quotable(entry.check),
        line: later.line,
      }),
    );
    notes.notice(
      "warning",
      "sign-off-twice",
      "{check} is answered here and again in line {later}; the later answer counts",
      { check: quotable(entry.check), later: later.line },
      { line: entry.line },
    );
    return false;
  });
}
