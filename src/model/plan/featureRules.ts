import { articled, listed, shown } from "./nearest.ts";
import type { FitName, SweepName } from "./plan.ts";
import type { Remarks, Sections } from "./sections.ts";

type FeatureEntries = Sections["features"];
type FeatureEntry = FeatureEntries extends ReadonlyMap<string, infer E> ? E : never;

/** Every sweep becomes points of one geometry (a rim sweep those of a circle), and needs what makes it so. */
const SWEEPS: Readonly<
  Record<SweepName, { readonly fit: FitName; readonly needs: readonly ("radius" | "surface")[] }>
> = {
  traverse: { fit: "line", needs: [] },
  "rim-sweep": { fit: "circle", needs: ["radius", "surface"] },
  "face-sweep": { fit: "plane", needs: ["radius"] },
  map: { fit: "plane", needs: [] },
};
const WHY = {
  radius: "the radius at which the indicator runs",
  surface: "bore or boss: it decides the sign",
};
const ROUND: readonly FitName[] = ["circle", "cylinder", "sphere"];
const CENTERED: readonly FitName[] = ["circle", "sphere", "point"];

/** Keys of a feature that must, or must not, go together. */
export function featureRules({ features }: Sections, remarks: Remarks): void {
  for (const [name, entry] of features) {
    checkSweep(name, entry, remarks);
    checkAxis(name, entry, features, remarks);
    const { value, path } = entry;
    if (value?.surface !== undefined && !ROUND.includes(value.fit))
      remarks.problem(
        [...path, "surface"],
        `"surface" is for ${listed(ROUND)}; take it away from ${articled(value.fit)}`,
        "key",
      );
    if (value?.along !== undefined && value.along === value.height)
      remarks.problem(
        [...path, "height"],
        `"height" is the direction of travel ${value.along} itself; name another`,
      );
  }
}

function checkSweep(name: string, { value, path }: FeatureEntry, remarks: Remarks): void {
  if (value === null) return;
  const sweep = value.from === undefined ? null : SWEEPS[value.from];
  if (sweep !== null && sweep.fit !== value.fit)
    remarks.problem(
      [...path, "fit"],
      `a ${value.from} gives a ${sweep.fit}, not ${articled(value.fit)}; write fit: ${sweep.fit}`,
    );
  for (const key of sweep?.needs ?? [])
    if (value[key] === undefined)
      remarks.problem(
        path,
        `feature ${shown(name)} lacks "${key}"; a ${value.from} needs ${WHY[key]}`,
        "key",
      );
  if (value.radius !== undefined && sweep?.needs.includes("radius") !== true)
    remarks.problem(
      [...path, "radius"],
      '"radius" belongs to a rim-sweep or face-sweep; add "from" or take it away',
      "key",
    );
  for (const key of ["along", "height"] as const)
    if (value[key] !== undefined && value.fit !== "line")
      remarks.problem(
        [...path, key],
        `"${key}" belongs to a line; take it away from ${articled(value.fit)}`,
        "key",
      );
}

function checkAxis(
  name: string,
  { value, path }: FeatureEntry,
  features: FeatureEntries,
  remarks: Remarks,
): void {
  if (value === null) return;
  const through = value.through;
  if (value.fit !== "axis") {
    if (through !== undefined)
      remarks.problem(
        [...path, "through"],
        `"through" belongs to fit: axis; take it away from ${articled(value.fit)}`,
        "key",
      );
    return;
  }
  if (value.from !== undefined)
    remarks.problem(
      [...path, "from"],
      "an axis is built from other features, not swept; take it away",
      "key",
    );
  if (new Set(through).size < 2)
    remarks.problem(
      path,
      `axis ${shown(name)} needs "through" with two features or more, such as [bore-front, bore-back]`,
      "key",
    );
  through?.forEach((member, index) => {
    const fit = features.get(member)?.value?.fit;
    if (fit !== undefined && !CENTERED.includes(fit))
      remarks.problem(
        [...path, "through", index],
        `${shown(member)} is ${articled(fit)}, which has no centre; name a ${listed(CENTERED)}`,
      );
  });
}
