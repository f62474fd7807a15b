import { articled, listed, shown } from "./nearest.ts";
import type { FitName, SweepName } from "./plan.ts";
import { FITS } from "./planSchema.ts";
import type { KeyPath } from "./problem.ts";
import type { Mapping, Remarks, Sections } from "./sections.ts";

interface Sweep {
  readonly fit: FitName;
  readonly needs: readonly ("radius" | "surface")[];
}
/** Every sweep becomes points of one geometry (a rim sweep those of a circle), and needs what makes it so. */
const SWEEPS: Readonly<Record<SweepName, Sweep>> = {
  traverse: { fit: "line", needs: [] },
  "rim-sweep": { fit: "circle", needs: ["radius", "surface"] },
  "face-sweep": { fit: "plane", needs: ["radius"] },
  map: { fit: "plane", needs: [] },
};
const WHY = {
  radius: "the radius at which the indicator runs",
  surface: "bore or boss, which decides the sign",
};
const ROUND: readonly FitName[] = ["circle", "cylinder", "sphere"];
const CENTERED: readonly FitName[] = ["circle", "sphere", "point"];

/** The fit of a feature as written; undefined when it has none that is known. */
export const fitOf = (raw: Mapping | undefined): FitName | undefined => FITS.find((fit) => fit === raw?.fit);
const sweepOf = (raw: Mapping): SweepName | undefined =>
  (Object.keys(SWEEPS) as SweepName[]).find((name) => name === raw.from);

interface Feature {
  readonly name: string;
  readonly raw: Mapping;
  readonly path: KeyPath;
  readonly fit: FitName;
}

/** Keys of a feature that must, or must not, go together. */
export function featureRules({ features }: Sections, remarks: Remarks): void {
  for (const [name, { raw, path }] of features) {
    const fit = fitOf(raw);
    if (fit === undefined) continue;
    const feature = { name, raw, path, fit };
    checkSweep(feature, remarks);
    checkForeignKeys(feature, remarks);
    if (fit === "axis") checkAxis(feature, features, remarks);
    if (raw.along !== undefined && raw.along === raw.height)
      remarks.problem([...path, "height"], '"height" is the direction of travel itself; name another axis');
  }
}

function checkSweep({ name, raw, path, fit }: Feature, remarks: Remarks): void {
  const from = sweepOf(raw);
  if (from === undefined) return;
  const sweep = SWEEPS[from];
  if (sweep.fit !== fit)
    remarks.problem(
      [...path, "fit"],
      `a ${from} gives ${articled(sweep.fit)}, not ${articled(fit)}; write fit: ${sweep.fit}`,
    );
  for (const key of sweep.needs)
    if (!Object.hasOwn(raw, key))
      remarks.problem(path, `feature ${shown(name)} lacks "${key}"; a ${from} needs ${WHY[key]}`, "key");
}

function checkForeignKeys({ raw, path, fit }: Feature, remarks: Remarks): void {
  const foreign = (key: string, text: string) => {
    if (Object.hasOwn(raw, key)) remarks.problem([...path, key], `"${key}" ${text}`, "key");
  };
  const from = sweepOf(raw);
  if (!Object.hasOwn(raw, "from") || (from !== undefined && !SWEEPS[from].needs.includes("radius")))
    foreign("radius", "belongs to a rim-sweep or face-sweep; say which with from, or take it away");
  if (!ROUND.includes(fit))
    foreign("surface", `is for a ${listed(ROUND)}; take it away from ${articled(fit)}`);
  if (fit !== "line") {
    foreign("along", `belongs to a line; take it away from ${articled(fit)}`);
    foreign("height", `belongs to a line; take it away from ${articled(fit)}`);
  }
  if (fit !== "axis") foreign("through", `belongs to fit: axis; take it away from ${articled(fit)}`);
  else foreign("from", "does not belong to an axis, which is built from other features; take it away");
}

function checkAxis({ name, raw, path }: Feature, features: Sections["features"], remarks: Remarks): void {
  const members: readonly unknown[] = Array.isArray(raw.through) ? raw.through : [];
  if (new Set(members).size < 2)
    remarks.problem(
      path,
      `axis ${shown(name)} needs "through" with two features or more, such as [bore-front, bore-back]`,
      "key",
    );
  for (const [index, member] of members.entries()) {
    const fit = typeof member === "string" ? fitOf(features.get(member)?.raw) : undefined;
    if (fit !== undefined && !CENTERED.includes(fit))
      remarks.problem(
        [...path, "through", index],
        `${shown(member)} is ${articled(fit)}, which has no one centre; name a ${listed(CENTERED)}`,
      );
  }
}
