import { adviceDimension } from "../../model/adviceDimension.ts";
import type { AdviceValue, ReportFeature, SetupReport } from "../../model/setupReport.ts";
import type { ValueTable } from "./tables.ts";

export type ReportValue = Omit<ValueTable, "revision_id">;

/** A face turned further than this from the spindle axis has no slope over X and Y (as in the advice). */
const LEAST_FACING = Math.cos(Math.PI / 4);

/**
 * Every number of a report that can be followed over time: characteristics and sign-offs with their verdict, centre, slopes,
 * diameter and form of features as left, and each number in the values of the advice.
 */
export function reportValues(report: SetupReport): ReportValue[] {
  return [
    ...report.characteristics.map(
      (entry): ReportValue => ({
        source: "characteristic",
        of: entry.id,
        kind: entry.kind,
        quantity: "value",
        value: entry.value,
        unit: entry.unit,
        uncertainty: entry.uncertainty,
        verdict: entry.verdict,
      }),
    ),
    ...Object.entries(report.features).flatMap(([name, feature]) => featureValues(name, feature)),
    ...adviceValues(report),
    ...report.signOffs.map(
      (entry): ReportValue => ({
        source: "sign-off",
        of: entry.id,
        kind: "sign-off",
        quantity: "value",
        value: typeof entry.value === "number" ? entry.value : null,
        unit: entry.unit ?? "",
        uncertainty: null,
        verdict: entry.verdict,
      }),
    ),
  ];
}

const plain = { uncertainty: null, verdict: null };

function featureValues(of: string, feature: ReportFeature): ReportValue[] {
  const [x, y, z] = feature.center ?? [];
  const quantities: readonly (readonly [string, number | null | undefined, string])[] = [
    ["x", x, "mm"],
    ["y", y, "mm"],
    ["z", z, "mm"],
    ...slopes(feature),
    ["diameter", feature.diameter, "mm"],
    ["rms", feature.rms, "mm"],
    ["form", feature.zone?.minimum, "mm"],
  ];
  return quantities.flatMap(([quantity, value, unit]) =>
    typeof value === "number"
      ? [{ source: "feature", of, kind: feature.fit, quantity, value, unit, ...plain }]
      : [],
  );
}

/** Slopes as the advice counts them: dZ/dX and dZ/dY of a plane that looks at the spindle, of a line along its travel. */
function slopes({ fit, direction }: ReportFeature): [string, number, string][] {
  if (direction === null) return [];
  const [x, y, z] = direction;
  if (fit === "plane" && Math.abs(z) >= LEAST_FACING)
    return [
      ["slopeX", -x / z + 0, "slope"],
      ["slopeY", -y / z + 0, "slope"],
    ];
  if (fit !== "line") return [];
  if (Math.abs(x) >= LEAST_FACING) return [["slopeX", z / x + 0, "slope"]];
  return Math.abs(y) >= LEAST_FACING ? [["slopeY", z / y + 0, "slope"]] : [];
}

/** The first advice of a kind goes by the kind's name, a second one by `kind-2`. */
function adviceValues(report: SetupReport): ReportValue[] {
  const seen = new Map<string, number>();
  return report.advice.flatMap(({ kind, values, plot }) => {
    const count = (seen.get(kind) ?? 0) + 1;
    seen.set(kind, count);
    const of = count === 1 ? kind : `${kind}-${count}`;
    return leaves(values, "").map(([quantity, value]) => ({
      source: "advice",
      of,
      kind,
      quantity,
      value,
      unit: UNITS[adviceDimension(quantity.split(".")[0] ?? "", plot?.data)],
      ...plain,
    }));
  });
}
const UNITS = { length: "mm", angle: "deg", slope: "slope", count: "" } as const;

/** Numbers in nested values, named by their keys with dots between. */
function leaves(value: AdviceValue, path: string): [string, number][] {
  if (typeof value === "number") return Number.isFinite(value) ? [[path, value]] : [];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value as Readonly<Record<string, AdviceValue>>).flatMap(([key, inner]) =>
    leaves(inner, path === "" ? key : `${path}.${key}`),
  );
}
