import { safeParse } from "valibot";
import { dimensionsOf } from "../quantity.ts";
import { featureRules, fitOf } from "./featureRules.ts";
import type { CharacteristicPlanKind } from "./fields.ts";
import { articled, clipped, listed, meant, shown } from "./nearest.ts";
import {
  adviceEntry,
  COLUMNS,
  characteristicEntry,
  exclusion,
  featureEntry,
  lengthRange,
  simpleParts,
} from "./planSchema.ts";
import { mapWritten } from "./schemaWalk.ts";
import type { Entry, KindEntry, Remarks, Sections } from "./sections.ts";
import { isMapping } from "./sections.ts";

/** What no single part of a plan can know of itself: names that must be there, ids that must differ, order of numbers. */
export function checkRules(sections: Sections, remarks: Remarks): void {
  checkReferences(sections, remarks);
  checkIds(sections, remarks);
  featureRules(sections, remarks);
  for (const entry of sections.characteristics) checkOperands(entry, sections, remarks);
  for (const entry of sections.signOffs) checkSignOff(entry, remarks);
  checkDecision(sections, remarks);
  checkMachine(sections, remarks);
  checkLogs(sections, remarks);
  checkPoints(sections, remarks);
}

function checkReferences(sections: Sections, remarks: Remarks): void {
  const names = [...sections.features.keys()];
  const check = (schema: unknown, entry: Entry<unknown>) =>
    mapWritten(schema, entry.raw, entry.path, (value, meta, path) => {
      if (meta.reference === "feature" && typeof value === "string" && value !== "" && !names.includes(value))
        remarks.problem(
          path,
          `${shown(value)} is not a feature of this plan; ${meant(value, names, "features")}`,
        );
      return value;
    });
  for (const entry of sections.features.values()) check(featureEntry(), entry);
  for (const entry of sections.characteristics) check(characteristicEntry(entry.kind), entry);
  for (const entry of sections.advice) check(adviceEntry(entry.kind), entry);
  for (const entry of sections.exclude) check(exclusion(), entry);
  check(
    simpleParts((key) => Object.hasOwn(sections.simpleRaw, key)),
    { path: [], raw: sections.simpleRaw, value: null },
  );
  checkInstruments(sections, remarks);
}

function checkInstruments(sections: Sections, remarks: Remarks): void {
  const names = [...sections.instruments.keys()];
  const check = (raw: unknown, path: readonly (string | number)[]) => {
    const name = isMapping(raw) ? raw.instrument : undefined;
    if (typeof name === "string" && !names.includes(name))
      remarks.problem(
        [...path, "instrument"],
        `${shown(name)} is not under "instruments"; ${meant(name, names, "instruments")}`,
      );
  };
  for (const entry of sections.features.values()) check(entry.raw, entry.path);
  check(sections.simpleRaw.logs, ["logs"]);
  for (const { value, path } of sections.instruments.values())
    if (
      value?.uncertainty !== undefined &&
      (value.resolution ?? value.repeat ?? value["max-error"]) !== undefined
    )
      remarks.note(
        path,
        '"uncertainty" is stated, so resolution, repeat and max-error are only printed',
        "key",
      );
}

function checkIds(sections: Sections, remarks: Remarks): void {
  const seen = new Set<string>();
  for (const { raw, path } of [...sections.characteristics, ...sections.signOffs]) {
    if (typeof raw.id !== "string") continue;
    if (seen.has(raw.id)) remarks.problem([...path, "id"], `the id ${shown(raw.id)} is taken; give another`);
    seen.add(raw.id);
  }
}

function checkOperands(entry: KindEntry<CharacteristicPlanKind>, sections: Sections, remarks: Remarks): void {
  const { kind, raw, path } = entry;
  if (kind.to.length === 0 && Object.hasOwn(raw, "to") && !Object.hasOwn(kind.inputs(), "to"))
    remarks.problem([...path, "to"], `"to" is not for ${kind.kind}, which has no datum; take it away`, "key");
  checkFit(entry, "of", kind.of, sections, remarks);
  checkFit(entry, "to", kind.to, sections, remarks);
  if (typeof raw.of === "string" && raw.of === raw.to && kind.to.length > 0)
    remarks.problem([...path, "to"], `"to" is the feature itself; name the datum it is compared with`);
}
function checkFit(
  entry: KindEntry<CharacteristicPlanKind>,
  key: "of" | "to",
  fits: readonly string[],
  sections: Sections,
  remarks: Remarks,
): void {
  const name = entry.raw[key];
  const fit = typeof name === "string" ? fitOf(sections.features.get(name)?.raw) : undefined;
  if (fit === undefined || fits.length === 0 || fits.includes(fit)) return;
  remarks.problem(
    [...entry.path, key],
    `${shown(name)} is ${articled(fit)}; "${key}" of ${entry.kind.kind} must be ${articled(listed(fits))}`,
  );
}

function checkSignOff({ raw, path }: Sections["signOffs"][number], remarks: Remarks): void {
  const { min, max, unit } = raw;
  if (typeof min === "number" && typeof max === "number" && min > max)
    remarks.problem([...path, "max"], `"max" ${max} is below "min" ${min}; exchange them`);
  if (typeof unit === "string" && dimensionsOf(unit).length === 0)
    remarks.note(
      [...path, "unit"],
      `${shown(unit)} is no unit that is converted; readings must carry the same word`,
    );
}

function checkDecision({ simpleRaw, instruments }: Sections, remarks: Remarks): void {
  const { decision } = simpleRaw;
  if (!isMapping(decision)) return;
  if (decision.rule === "simple" && Object.hasOwn(decision, "guard"))
    remarks.problem(
      ["decision", "guard"],
      '"guard" has no meaning under rule simple; take it away or write rule: guarded',
      "key",
    );
  const stated = [...instruments.values()].some(({ raw }) =>
    ["uncertainty", "resolution", "repeat", "max-error"].some((key) => Object.hasOwn(raw, key)),
  );
  if (decision.rule === "guarded" && !stated)
    remarks.note(
      ["decision"],
      "no instrument states an uncertainty, so under rule guarded every verdict is undecided; add it under instruments",
    );
}

function checkMachine({ simpleRaw }: Sections, remarks: Remarks): void {
  const travel = isMapping(simpleRaw.machine) ? simpleRaw.machine.travel : null;
  for (const [axis, written] of Object.entries(isMapping(travel) ? travel : {})) {
    const range = safeParse(lengthRange(), written);
    if (range.success && range.output[0] >= range.output[1])
      remarks.problem(
        ["machine", "travel", axis],
        `the travel of "${axis}" ends where it starts or before; exchange its ends`,
      );
  }
}

function checkLogs({ simpleRaw }: Sections, remarks: Remarks): void {
  if (!isMapping(simpleRaw.logs)) return;
  const { columns, decimal, separator, order } = simpleRaw.logs;
  for (const name of Object.keys(isMapping(columns) ? columns : {}))
    if (!(COLUMNS as readonly string[]).includes(name))
      remarks.problem(
        ["logs", "columns", name],
        `"${clipped(name)}" is not a column Plinth knows; ${meant(name, COLUMNS, "columns")}`,
        "key",
      );
  const comma = (mark: unknown) => mark === "," || mark === "comma";
  if (comma(decimal) && comma(separator))
    remarks.problem(
      ["logs", "separator"],
      "separator and decimal mark are both a comma; one must be another",
    );
  for (const [index, reading] of Array.isArray(order) ? order.entries() : [])
    if (isMapping(reading) && !["position", "angle", "x", "y"].some((key) => Object.hasOwn(reading, key)))
      remarks.problem(["logs", "order", index], "a reading has no place; give position, angle, or x and y");
}

/** With no more points than the fit has unknowns, form is zero whatever the part is like. */
const FEWEST: Readonly<Record<string, number>> = { plane: 4, line: 3, circle: 4, cylinder: 6, sphere: 5 };
function checkPoints({ simpleRaw }: Sections, remarks: Remarks): void {
  for (const [fit, count] of Object.entries(isMapping(simpleRaw.points) ? simpleRaw.points : {})) {
    const fewest = Object.hasOwn(FEWEST, fit) ? FEWEST[fit] : undefined;
    if (fewest === undefined)
      remarks.problem(
        ["points", fit],
        `"${clipped(fit)}" is no fit with a form; ${meant(fit, Object.keys(FEWEST), "fits")}`,
        "key",
      );
    else if (typeof count === "number" && Number.isInteger(count) && count > 0 && count < fewest)
      remarks.problem(
        ["points", fit],
        `${articled(fit)} through ${count} points shows no form error, ever; ask for ${fewest} or more`,
      );
  }
}
