import type { MeasuredFeature, Readings, TipState } from "../../model/measurement.ts";
import { featurePlan, headerLine } from "../headerSettings.ts";
import { withoutControls } from "../notebook.ts";
import type { WalkContext } from "../walkRows.ts";
import type { KindContext } from "./contract.ts";

export const walkContext = (context: KindContext): WalkContext => ({
  text: context.text,
  notes: context.notes,
  count: context.count,
  plan: context.settings.plan,
  mark: context.mark.mark,
});

/** What the header and the plan say about a feature, beside its readings. */
export function measuredFeature(
  name: string,
  readings: Readings,
  context: KindContext,
  tip: TipState = tipOf(name, context),
): MeasuredFeature {
  const { settings, quantities } = context;
  const { header, plan } = settings;
  const text = (key: string): string | null => {
    const value = withoutControls(header.get(key)?.value ?? "").trim();
    return value === "" ? null : value;
  };
  return {
    name,
    state: settings.state,
    log: 0,
    readings,
    tip,
    instrument: text("instrument") ?? featurePlan(plan, name)?.instrument ?? plan?.logs.instrument ?? null,
    clamping: settings.clamping,
    bolt: text("bolt"),
    frame: settings.frame,
    temperatureC: quantities.temperatureC,
  };
}

/** Tip state from the header, else the feature's entry in the plan, else the plan's `logs`. */
function tipOf(name: string, { settings, quantities, notes }: KindContext): TipState {
  const feature = featurePlan(settings.plan, name);
  const line = settings.header.get("points")?.line;
  const source =
    settings.points !== null
      ? { points: settings.points, because: headerLine(line ?? 0) }
      : feature?.points
        ? { points: feature.points, because: `declared in the plan for ${name}` }
        : settings.logs?.points
          ? { points: settings.logs.points, because: "declared in the plan" }
          : null;
  const diameter = quantities.tipDiameterMm ?? feature?.tipDiameterMm ?? settings.logs?.tipDiameterMm ?? null;
  const points = source?.points ?? "unknown";
  const because =
    source?.because ?? "neither header nor plan say whether points are the surface or the ball's center";
  if (!notes.decisions.some((entry) => entry.what === "points" && entry.value === points))
    notes.decide("points", points, because);
  return { points, radiusMm: diameter === null ? null : diameter / 2 };
}
