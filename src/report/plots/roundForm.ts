import type { ReportFeature, RoundSize } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { endsText, sentences, thinnedText } from "./captions.ts";
import type { FeaturePlotKind, Plot } from "./contract.ts";
import { isCrowd, reach } from "./crowd.ts";
import {
  baseCircle,
  cross,
  deviationBar,
  exaggeration,
  POLAR,
  type PolarScale,
  placeAt,
  polarLabel,
  polarScale,
  type Ring,
  ringPath,
} from "./polar.ts";
import { deviationText } from "./scales.ts";
import { element, pathOf, picture } from "./svg.ts";
import { extremes, type Touch, touchesOf } from "./touches.ts";
import { type Mark, touchMarks } from "./touchMarks.ts";
import { inView, type ViewFrame, viewFrame } from "./viewFrame.ts";
import { zoneCircles } from "./zoneCircles.ts";

/** Deviations of a round from its least-squares circle, drawn much too large around it. */
export const roundForm: FeaturePlotKind = {
  name: "round-form",
  fits: ["circle", "cylinder"],
  draw: (name, feature, _id, page) => {
    const touches = touchesOf(feature);
    if (touches === null || feature.center === null) return null;
    const frame = viewFrame(feature.direction);
    const points = around(touches, feature.center, frame);
    const largest = Math.max(...touches.map((touch) => Math.abs(touch.deviation)));
    const scale = polarScale(largest, (feature.diameter ?? 0) / 2, page);
    const rings = ringsOf(feature, points, frame);
    const ends = extremes(touches);
    const svg = picture(
      POLAR,
      `${page.text(page.texts.plots.roundLabel, { name })}. ${endsText(ends, page)}`,
      cross(frame),
      baseCircle(),
      trace(points, feature.fit, scale),
      ...rings.map((ring) => ringPath(ring, scale)),
      touchMarks(
        (isCrowd(points.length)
          ? points.filter(
              ({ touch }) => touch.holds || touch.carries || touch === ends.highest || touch === ends.lowest,
            )
          : points
        ).map((point) => mark(point, scale)),
      ),
      ...points
        .filter(({ touch }) => touch === ends.highest || touch === ends.lowest)
        .map(({ angle, touch: { deviation } }) =>
          polarLabel(angle, deviation, scale, deviationText(deviation, page)),
        ),
      deviationBar(scale, page),
    );
    return { svg, ...wordsOf({ feature, touches, scale, rings }, page) };
  },
};

interface RoundPoint {
  readonly angle: number;
  readonly touch: Touch;
}
function around(
  touches: readonly Touch[],
  center: readonly [number, number, number],
  frame: ViewFrame,
): readonly RoundPoint[] {
  const [x0, y0] = inView(center, frame);
  return touches.map((touch) => {
    const [x, y] = inView(touch.place, frame);
    return { angle: Math.atan2(y - y0, x - x0), touch };
  });
}

function ringsOf(feature: ReportFeature, points: readonly RoundPoint[], frame: ViewFrame): readonly Ring[] {
  const extreme = (size: RoundSize | null | undefined): readonly Ring[] => {
    if (!size || !feature.center || !feature.diameter) return [];
    const [x0, y0] = inView(feature.center, frame);
    const [x, y] = inView(size.center, frame);
    return [{ shift: [x - x0, y - y0], offset: (size.diameter - feature.diameter) / 2, kind: "extreme" }];
  };
  return [...extreme(feature.inscribed), ...extreme(feature.circumscribed), ...zoneRings(feature, points)];
}

function zoneRings(feature: ReportFeature, points: readonly RoundPoint[]): readonly Ring[] {
  if (!feature.zone || feature.fit !== "circle") return [];
  const holds = points
    .filter(({ touch }) => touch.holds)
    .map(({ angle, touch }) => ({
      along: [Math.cos(angle), Math.sin(angle)] as const,
      deviation: touch.deviation,
      outside: touch.weight > 0,
    }));
  const zone = zoneCircles(holds, feature.zone.minimum);
  if (zone === null) return [];
  return [zone.outer, zone.inner].map((offset) => ({ shift: zone.shift, offset, kind: "zone" }));
}

/** Neighbouring touches of one section joined; a cylinder's sections lie over each other and are left unjoined. */
function trace(points: readonly RoundPoint[], fit: string, drawing: PolarScale): string {
  if (isCrowd(points.length))
    return reach(
      points.map(({ angle, touch }) => ({ at: angle, value: touch.deviation })),
      120,
      (angle, deviation) => placeAt(angle, deviation, drawing),
    );
  if (fit !== "circle" || points.length < 5) return "";
  const ordered = [...points].sort((a, b) => a.angle - b.angle);
  const places = ordered.map(({ angle, touch }) => placeAt(angle, touch.deviation, drawing));
  return element("path", { d: pathOf(places, true), fill: "none", stroke: "#647b89", "stroke-width": 0.9 });
}

function mark({ angle, touch }: RoundPoint, scale: PolarScale): Mark {
  const [cx, cy] = placeAt(angle, touch.deviation, scale);
  return {
    cx,
    cy,
    line: touch.line,
    holds: touch.holds,
    carries: touch.carries,
    filled: touch.deviation > 0,
  };
}

interface Drawn {
  readonly feature: ReportFeature;
  readonly touches: readonly Touch[];
  readonly scale: PolarScale;
  readonly rings: readonly Ring[];
}
function wordsOf({ feature, touches, scale, rings }: Drawn, page: PageContext): Omit<Plot, "svg"> {
  const { plots } = page.texts;
  return {
    caption: sentences([
      `${endsText(extremes(touches), page)}.`,
      exaggeration(scale, page),
      thinnedText(feature, touches.length, page),
    ]),
    key: [
      plots.roundBase,
      rings.some((ring) => ring.kind === "extreme") ? plots.roundExtremes : "",
      touches.some((touch) => touch.carries) ? plots.roundCarries : "",
      touches.some((touch) => touch.holds) ? plots.holds : "",
      rings.some((ring) => ring.kind === "zone") ? plots.roundZone : "",
      isCrowd(touches.length) ? plots.crowdReach : "",
    ].filter((sentence) => sentence !== ""),
  };
}
