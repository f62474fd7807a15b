export type AdviceDimension = "length" | "angle" | "slope" | "count";

/** What the numbers of the advice kinds are; their keys are the same in every report. */
const DIMENSIONS: ReadonlyMap<string, AdviceDimension> = new Map([
  ["slopeX", "slope"],
  ["slopeY", "slope"],
  ["seatX", "slope"],
  ["seatZ", "slope"],
  ["common", "slope"],
  ["remainder", "slope"],
  ["yawCommon", "slope"],
  ["yawRemainder", "slope"],
  ["wedgeX", "slope"],
  ["wedgeY", "slope"],
  ["rotary", "angle"],
  ["leastAngle", "angle"],
  ["thickAngle", "angle"],
  ["bSense", "count"],
  ["passes", "count"],
  ["count", "count"],
]);
/** Statistics of seatings are of what was compared: the data of their picture say which. */
const OF_SEATINGS: ReadonlySet<string> = new Set(["mean", "deviation", "range"]);

/**
 * What a number of an advice is, by its key in `values` and the data of its picture; everything that is not named is a
 * length in mm.
 */
export function adviceDimension(key: string, plotData: unknown): AdviceDimension {
  const compared =
    typeof plotData === "object" && plotData !== null && "unit" in plotData ? plotData.unit : null;
  if (OF_SEATINGS.has(key) && compared === "slope") return "slope";
  return DIMENSIONS.get(key) ?? "length";
}
