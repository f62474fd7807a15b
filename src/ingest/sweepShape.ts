import type { SweepKind } from "../model/measurement.ts";
import type { AxisName, FeaturePlan } from "../model/plan/plan.ts";
import type { Quantities } from "./headerQuantities.ts";
import { featurePlan, type Settings } from "./headerSettings.ts";
import { type Notebook, quotable, type Refusal } from "./notebook.ts";
import type { SweepShape } from "./sweepGeometry.ts";

/** Which stations a sweep has. */
export type Stations = "position" | "angle" | "map";
/** What a row of the log itself says about its sweep, in columns of its own. */
export interface RowShape {
  readonly from: string;
  readonly surface: string;
  readonly along: string;
  readonly height: string;
  readonly radiusMm: number | null;
}
interface Wanted {
  readonly name: string;
  readonly stations: Stations;
  readonly row: RowShape | null;
  readonly line: number;
}

/** The geometry of a sweep from its own columns, the header and the plan; what is missing is asked for. */
export function sweepShape(
  wanted: Wanted,
  settings: Settings,
  quantities: Quantities,
  notes: Notebook,
): SweepShape | Refusal {
  const plan = featurePlan(settings.plan, wanted.name);
  const kind = kindOfSweep(wanted, settings, plan, notes);
  if (typeof kind !== "string") return kind;
  const along = axis(wanted.row?.along) ?? settings.along ?? plan?.along ?? "x";
  const height = axis(wanted.row?.height) ?? settings.height ?? plan?.height ?? (along === "z" ? "x" : "z");
  const place = { line: wanted.line, feature: wanted.name };
  if (kind === "traverse" && along === height)
    return notes.refuse(
      "traverse-axes",
      "the traverse {name} has its readings along its own travel {along}; give it along and height that differ",
      { name: quotable(wanted.name), along },
      place,
    );
  if (kind === "traverse" || kind === "map") {
    if (kind === "traverse") decideAxes(along, height, wanted, settings, plan, notes);
    const side = sideOf(wanted.name, kind === "traverse" ? height : "z", plan, notes);
    return { kind, radiusMm: null, surface: null, along, height, side };
  }
  const radiusMm = wanted.row?.radiusMm ?? quantities.radiusMm ?? plan?.radiusMm ?? null;
  const surface = side(wanted.row?.surface) ?? settings.surface ?? plan?.surface ?? null;
  const clash = contradiction(wanted, { radiusMm, surface }, plan, notes);
  if (clash !== null) return clash;
  if (radiusMm === null || (kind === "rim-sweep" && surface === null))
    return notes.refuse(
      "sweep-geometry",
      "the {kind} {name} needs {missing}; give the feature {name} {entries} in the plan, or write the same as # lines above the rows",
      {
        kind: kind.replace("-", " "),
        name: quotable(wanted.name),
        missing: [
          radiusMm === null && "the radius it was made on",
          kind === "rim-sweep" && surface === null && "bore or boss",
        ]
          .filter(Boolean)
          .join(" and "),
        entries: [
          radiusMm === null && "radius: 75 mm",
          kind === "rim-sweep" && surface === null && "surface: bore or surface: boss",
        ]
          .filter(Boolean)
          .join(" and "),
      },
      place,
    );
  if (kind === "rim-sweep") return { kind, radiusMm, surface, along, height, side: 1 };
  return { kind, radiusMm, surface: null, along, height, side: sideOf(wanted.name, "z", plan, notes) };
}

/** Which way a flat surface looks along the axis of its readings, by the plan's normal; plus when nothing says so. */
function sideOf(name: string, height: AxisName, plan: FeaturePlan | null, notes: Notebook): 1 | -1 {
  const part = plan?.normal?.[height === "x" ? 0 : height === "y" ? 1 : 2] ?? 0;
  if (part >= 0) return 1;
  notes.decide(
    `side of ${name}`,
    `readings along -${height}`,
    "the normal in the plan points there, and plus is towards the indicator outside the material",
  );
  return -1;
}

const FITTING: Readonly<Record<Stations, readonly SweepKind[]>> = {
  position: ["traverse"],
  angle: ["rim-sweep", "face-sweep"],
  map: ["map"],
};
const isKind = (text: string): text is SweepKind =>
  text === "traverse" || text === "rim-sweep" || text === "face-sweep" || text === "map";
const axis = (text: string | undefined): AxisName | null =>
  text === "x" || text === "y" || text === "z" ? text : null;
const side = (text: string | undefined): "bore" | "boss" | null =>
  text === "bore" || text === "boss" ? text : null;

function kindOfSweep(
  { name, stations, row, line }: Wanted,
  settings: Settings,
  plan: FeaturePlan | null,
  notes: Notebook,
): SweepKind | Refusal {
  const own = row !== null && isKind(row.from) ? row.from : null;
  const stated = own ?? settings.from ?? plan?.from ?? null;
  const fitting = FITTING[stations];
  const place = { line, feature: name };
  if (stated !== null && !fitting.includes(stated))
    return notes.refuse(
      "sweep-kind",
      "{name} is said to come from a {stated} but has {stations}; a {fitting} has these, so correct from in the plan or the columns of the log",
      { name: quotable(name), stated, stations: wordsFor(stations), fitting: fitting.join(" or ") },
      place,
    );
  const because =
    own !== null
      ? "column from"
      : settings.from !== null
        ? "header"
        : plan?.from
          ? "declared in the plan"
          : null;
  const kind = stated ?? (fitting.length === 1 ? fitting[0] : byFit(plan, settings));
  if (kind === undefined || kind === null)
    return notes.refuse(
      "sweep-kind",
      "{name} has angles, so it is a sweep of a face or of a rim; say from: face-sweep or from: rim-sweep and radius{surface} in the plan's entry {name}, or write # from: and # radius: above the rows",
      { name: quotable(name), surface: ", and surface: bore or boss for a rim," },
      place,
    );
  notes.decide(
    `sweep ${name}`,
    kind,
    because ??
      (fitting.length === 1
        ? `it has ${wordsFor(stations)}`
        : "the feature is a round with a radius and a side"),
  );
  return kind;
}

const wordsFor = (stations: Stations): string =>
  ({ position: "positions", angle: "angles", map: "x and y" })[stations];

/** A circle with bore or boss can be swept at its rim only, a plane at its face only. */
function byFit(plan: FeaturePlan | null, settings: Settings): SweepKind | null {
  if (plan?.fit === "circle" && (plan.surface ?? settings.surface) !== null) return "rim-sweep";
  if (plan === null && settings.surface !== null) return "rim-sweep";
  return plan?.fit === "plane" && plan.radiusMm !== null ? "face-sweep" : null;
}

function contradiction(
  { name, line }: Wanted,
  used: { readonly radiusMm: number | null; readonly surface: string | null },
  plan: FeaturePlan | null,
  notes: Notebook,
): Refusal | null {
  const place = { line, feature: name };
  if (plan?.surface && used.surface !== null && used.surface !== plan.surface)
    return notes.refuse(
      "sweep-contradiction",
      "{name} is a {log} in the log and a {plan} in the plan; the centre would move the other way, so correct the one that is wrong",
      { name: quotable(name), log: used.surface, plan: plan.surface },
      place,
    );
  if (
    plan?.radiusMm &&
    used.radiusMm !== null &&
    Math.abs(used.radiusMm - plan.radiusMm) > 1e-9 * plan.radiusMm
  )
    return notes.refuse(
      "sweep-contradiction",
      "{name} was swept at radius {log} by the log and at {plan} by the plan; correct the one that is wrong",
      {
        name: quotable(name),
        log: { mm: used.radiusMm, as: "stated" },
        plan: { mm: plan.radiusMm, as: "stated" },
      },
      place,
    );
  return null;
}

function decideAxes(
  along: AxisName,
  height: AxisName,
  { name, row }: Wanted,
  settings: Settings,
  plan: FeaturePlan | null,
  notes: Notebook,
): void {
  const because = axis(row?.along)
    ? "columns along and height"
    : settings.along || settings.height
      ? "header"
      : plan?.along || plan?.height
        ? "declared in the plan"
        : "neither header nor plan say otherwise";
  notes.decide(`axes of ${name}`, `along ${along}, readings along ${height}`, because);
}
