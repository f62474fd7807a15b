import { likelyFit } from "../analysis/likelyFit.ts";
import { understandLog } from "../ingest/understandLog.ts";
import type { ReadingEffects } from "../model/effects.ts";
import type { LogFile, MeasuredFeature } from "../model/measurement.ts";
import { NO_PLAN, type Plan } from "../model/plan/plan.ts";
import { planFromText, readPlanFile } from "./planFile.ts";
import { hashed } from "./readLogs.ts";

/**
 * The plan at `path`, or where none is named a plan that expects what the logs hold and judges nothing: each feature
 * gets the fit that its touches look like, and the page says so.
 */
export async function planFor(
  effects: ReadingEffects,
  path: string | undefined,
  files: readonly LogFile[],
): Promise<Plan> {
  if (path !== undefined) return readPlanFile(effects, path);
  const features = new Map<string, string>();
  for (const file of files) {
    const log = understandLog(file, null);
    if (log.ok) for (const feature of log.features) features.set(feature.name, fitLine(feature));
  }
  const lines = [...features].map(([name, fit]) => `  ${JSON.stringify(name)}: ${fit}`);
  const text = [
    "plinth: 1",
    `name: ${NO_PLAN}`,
    "title: No plan given, so nothing is judged",
    "decision: {rule: simple}",
    ...(lines.length > 0 ? ["features:", ...lines] : []),
    "",
  ].join("\n");
  return planFromText(hashed({ name: `${NO_PLAN}.yaml`, text }, text));
}

function fitLine(feature: MeasuredFeature): string {
  const { sweep, readings } = feature;
  if (sweep?.kind === "traverse") return "{fit: line, from: traverse, along: x, height: z}";
  if (sweep?.kind === "map" || sweep?.kind === "face-sweep")
    return `{fit: plane, from: ${sweep.kind}${radius(sweep.radiusMm)}}`;
  if (sweep?.kind === "rim-sweep") return `{fit: circle, from: rim-sweep${radius(sweep.radiusMm)}}`;
  return `{fit: ${likelyFit(readings)}}`;
}
const radius = (mm: number | null): string => (mm === null ? "" : `, radius: ${mm} mm`);
