import type { Sweep } from "../model/measurement.ts";
import type { Plan } from "../model/plan/plan.ts";
import type { Said } from "../model/say.ts";
import type { FeaturePlot, ReportFeature, ReportSweep } from "../model/setupReport.ts";
import type { FittedFeature, UnfittedFeature } from "./fittedFeature.ts";
import type { FeatureLookup } from "./fitting/fitFeatures.ts";
import { formOf } from "./fitting/formOf.ts";
import { spreadOf } from "./fitting/formZone.ts";
import { instrumentPlan } from "./fitting/instruments.ts";
import { sweepWaves } from "./sweepWaves.ts";
import { at, thinned } from "./thinned.ts";

/** A feature for the report, with what was found before correction inside it; null when nothing was measured. */
export function reportFeature(name: string, lookup: FeatureLookup, plan: Plan): ReportFeature<Said> | null {
  const main = lookup.feature(name);
  if (!main.ok && main.why === "missing") return null;
  const described = main.ok ? fitted(main, plan) : unfitted(main);
  if (main.state === "as-found" || !lookup.has(name, "as-found")) return described;
  const before = lookup.feature(name, "as-found");
  return { ...described, asFound: before.ok ? fitted(before, plan) : unfitted(before) };
}

const unfitted = (feature: UnfittedFeature): ReportFeature<Said> => ({
  fit: feature.fit,
  points: feature.count,
  state: feature.state ?? "as-left",
  center: null,
  direction: null,
  rms: null,
  trouble: feature.text,
});

function fitted(feature: FittedFeature, plan: Plan): ReportFeature<Said> {
  const { geometry, measured, instrument } = feature;
  const form = formOf(feature);
  const swept = measured?.sweep;
  const where = instrumentPlan(instrument, plan)?.where ?? null;
  const round = geometry.radius !== null;
  return {
    fit: feature.fit,
    points: feature.count,
    state: feature.state,
    center: geometry.center,
    direction: geometry.direction,
    ...(round ? { diameter: feature.tipUnknown ? null : 2 * (geometry.radius ?? 0) } : {}),
    rms: feature.rmsMm,
    ...(form.ok && form.value.zone !== null ? { zone: form.value.zone } : {}),
    ...(form.ok && form.value.inscribed !== null ? { inscribed: form.value.inscribed.size } : {}),
    ...(form.ok && form.value.circumscribed !== null ? { circumscribed: form.value.circumscribed.size } : {}),
    ...(feature.tipProblem === null ? {} : { trouble: feature.tipProblem }),
    quality: feature.quality,
    ...(swept === undefined ? {} : { sweep: sweepOf(swept, feature) }),
    ...(measured?.clamping ? { clamping: measured.clamping } : {}),
    ...(measured?.bolt ? { bolt: measured.bolt } : {}),
    ...(where === null ? {} : { where }),
    ...(measured === null ? {} : { plot: plotOf(feature) }),
  };
}

function sweepOf(swept: Sweep, feature: FittedFeature): ReportSweep {
  const waves = sweepWaves(feature);
  return {
    kind: swept.kind,
    radius: swept.radiusMm,
    fim: spreadOf(swept.reading),
    ...(swept.headerSagMm === null ? {} : { sag: swept.headerSagMm }),
    ...(waves.length === 0 ? {} : { waves }),
  };
}

function plotOf({ points, residuals, measured, count }: FittedFeature): FeaturePlot {
  const kept = thinned(residuals);
  return {
    x: at(kept, points.x),
    y: at(kept, points.y),
    z: at(kept, points.z),
    deviation: at(kept, residuals),
    line: at(kept, measured?.readings.line ?? []),
    of: count,
  };
}
