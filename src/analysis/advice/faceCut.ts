import { once } from "../../model/once.ts";
import {
  feature,
  type Inputs,
  lengthFromZero,
  object,
  oneOf,
  optional,
  positiveLength,
} from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { at, thinned } from "../thinned.ts";
import type { Advice, AdviceKind } from "./contract.ts";
import { advised, undecided, withoutFeature } from "./shared/answer.ts";
import { type Raw, rawFace } from "./shared/rawFace.ts";
import { faceSlopes } from "./shared/slopes.ts";
import { placeUnknown, placeUnknownText } from "./shared/tip.ts";
import { weightInputs, weightOf } from "./shared/weightInputs.ts";
import { mm, signedMm, signedSlope, stated } from "./shared/words.ts";

const inputs = once(() => ({
  of: feature(),
  "below-low": optional(lengthFromZero()),
  finish: optional(lengthFromZero()),
  "per-pass": optional(positiveLength()),
  rim: optional(
    oneOf([object({ radius: positiveLength() }), object({ x: positiveLength(), y: positiveLength() })]),
  ),
  "other-side": optional(lengthFromZero()),
  "finished-length": optional(positiveLength()),
  ...weightInputs(),
}));
type FaceCut = Readonly<Inputs<typeof inputs>>;
const EMPTY = {
  lowest: null,
  lowestAt: null,
  rimLow: null,
  rimHigh: null,
  cutPlane: null,
  deepest: null,
  passes: null,
  passDepth: null,
  lengthLeft: null,
};
/** Depth below the low spot of a saw-cut face where the plan states none: 0.025 in (common practice, no source). */
const BELOW_LOW_MM = 0.635;

/**
 * Where to face a raw side: lowest reading, lowest and highest place predicted at the rim (plane there with the smallest
 * and largest residual), cut plane below the lower of the two, deepest cut, equal roughing passes, length left for the
 * other side. Heights along Z in mm. Source: own derivation.
 */
export const faceCut: AdviceKind<typeof inputs> = {
  kind: "face-cut",
  turn: 7,
  mends: ["flatness", "tilt", "perpendicularity", "parallelism", "angularity", "distance"],
  inputs,
  advise(entry, context) {
    const found = context.feature(entry.of);
    if (!found.ok) return withoutFeature(found, entry.of, EMPTY);
    if (found.fit !== "plane" || faceSlopes(found).slopeX === null)
      return undecided({
        of: entry.of,
        values: EMPTY,
        headline: say("{of} is no face that looks at the spindle.", { of: entry.of }),
      });
    return cut(entry, found);
  },
};

interface Cut {
  readonly plane: number;
  readonly deepest: number;
  readonly passes: number | null;
  readonly passDepth: number | null;
  readonly lengthLeft: number | null;
}

function cut(entry: FaceCut, found: FittedFeature): Advice {
  const raw = rawFace(found, entry.rim ?? null);
  const result = cutOf(entry, raw);
  const unknown = placeUnknown(found);
  // Differences of heights hold whatever the tip is; the heights themselves do not.
  const values = {
    lowest: unknown ? null : raw.lowest,
    lowestAt: { x: raw.lowestAt[0], y: raw.lowestAt[1] },
    rimLow: unknown ? null : raw.rimLow,
    rimHigh: unknown ? null : raw.rimHigh,
    cutPlane: unknown ? null : result.plane,
    deepest: result.deepest,
    passes: result.passes,
    passDepth: result.passDepth,
    lengthLeft: result.lengthLeft,
  };
  const drawn = thinned(found.residuals);
  const answer = {
    of: entry.of,
    values,
    working: workingOf(entry, raw, result),
    cautions: cautionsOf(entry, found, raw, result),
    expect: say("After the last pass the whole face is cut; a sweep shows only what the cut left."),
    next: say("Touch round the low spot and at the rim before the first cut: one touch can sit on a chip."),
    plot: {
      kind: "face-cut",
      data: {
        x: at(drawn, found.points.x),
        y: at(drawn, found.points.y),
        z: at(drawn, found.points.z),
        cutPlane: result.plane,
        rim: entry.rim ?? null,
      },
    },
  };
  if (unknown) return undecided({ ...answer, headline: placeUnknownText(found) });
  return advised({ ...answer, headline: headlineOf(entry, result), halt: tooShort(entry, result) });
}

function cutOf(entry: FaceCut, raw: Raw): Cut {
  const plane = Math.min(raw.lowest, raw.rimLow ?? raw.lowest) - (entry["below-low"] ?? BELOW_LOW_MM);
  const deepest = Math.max(raw.highest, raw.rimHigh ?? raw.highest) - plane;
  const roughing = deepest - (entry.finish ?? 0);
  const perPass = entry["per-pass"];
  const passes = perPass === undefined ? null : Math.max(0, Math.ceil(roughing / perPass - 1e-9));
  const passDepth = passes === null ? null : passes === 0 ? 0 : roughing / passes;
  const lengthLeft =
    entry.length === undefined ? null : entry.length - (raw.lowest - plane) - (entry["other-side"] ?? 0);
  return { plane, deepest, passes, passDepth, lengthLeft };
}

function headlineOf(entry: FaceCut, result: Cut): Said {
  const values = {
    plane: signedMm(result.plane),
    deepest: mm(result.deepest),
    passes: result.passes ?? 0,
    depth: mm(result.passDepth ?? 0),
    left: mm(result.lengthLeft ?? 0),
    need: stated(entry["finished-length"] ?? 0),
    finish: stated(entry.finish ?? 0),
  };
  if (tooShort(entry, result))
    return say("NOT LONG ENOUGH: {left} left, {need} needed. Do not cut yet.", values);
  if (result.passes === null) return say("Cut at Z {plane}, deepest {deepest}", values);
  if (result.passes === 0) return say("Cut at Z {plane}: the finish cut alone, deepest {deepest}", values);
  return say(
    entry.finish === undefined || entry.finish === 0
      ? "Cut at Z {plane}: {passes} passes of {depth}"
      : "Cut at Z {plane}: {passes} passes of {depth}, then finish {finish}",
    values,
  );
}
const tooShort = (entry: FaceCut, { lengthLeft }: Cut): boolean =>
  lengthLeft !== null && entry["finished-length"] !== undefined && lengthLeft < entry["finished-length"];

function workingOf(entry: FaceCut, raw: Raw, result: Cut): Said[] {
  const lines = [
    say("lowest reading {low} at X {x}, Y {y}; highest {high}", {
      low: signedMm(raw.lowest),
      high: signedMm(raw.highest),
      x: signedMm(raw.lowestAt[0]),
      y: signedMm(raw.lowestAt[1]),
    }),
    say("face tilts {tilt}", { tilt: { slope: raw.tilt } }),
  ];
  if (raw.rimLow !== null && raw.rimHigh !== null)
    lines.push(
      say(
        "at the rim: plane's lowest + smallest residual = {low}, plane's highest + largest residual = {high}",
        {
          low: signedMm(raw.rimLow),
          high: signedMm(raw.rimHigh),
        },
      ),
    );
  const below = entry["below-low"] ?? BELOW_LOW_MM;
  lines.push(
    say("cut plane = {low} - {below} = {plane}", {
      low: signedMm(Math.min(raw.lowest, raw.rimLow ?? raw.lowest)),
      below: stated(below),
      plane: signedMm(result.plane),
    }),
    say("deepest cut = {high} - ({plane}) = {deepest}", {
      high: signedMm(Math.max(raw.highest, raw.rimHigh ?? raw.highest)),
      plane: signedMm(result.plane),
      deepest: mm(result.deepest),
    }),
  );
  return [...lines, ...passLines(entry, result), ...lengthLine(entry, raw, result)];
}
function passLines(entry: FaceCut, { passes, passDepth, plane }: Cut): Said[] {
  if (passes === null || passDepth === null || passes === 0) return [];
  const finish = entry.finish ?? 0;
  const levels = Array.from(
    { length: Math.min(passes, 12) },
    (_, i) => plane + finish + (passes - 1 - i) * passDepth,
  );
  return levels.map((z, i) => say("pass {number} at Z {z}", { number: i + 1, z: signedMm(z) }));
}
function lengthLine(entry: FaceCut, raw: Raw, result: Cut): Said[] {
  if (result.lengthLeft === null || entry.length === undefined) return [];
  return [
    say("length left = {raw} - {removed} - {other} for the other side = {left}", {
      raw: stated(entry.length),
      removed: mm(raw.lowest - result.plane),
      other: stated(entry["other-side"] ?? 0),
      left: mm(result.lengthLeft),
    }),
  ];
}

function cautionsOf(entry: FaceCut, found: FittedFeature, raw: Raw, result: Cut): Said[] {
  const lines: Said[] = [];
  if (tooShort(entry, result))
    lines.push(
      say(
        "Cut less below the low spot, leave less on the other side, or take a longer blank: before the first cut.",
      ),
    );
  if (entry["below-low"] === undefined)
    lines.push(
      say("Depth below the low spot not stated: {below} taken, common practice for a saw-cut face.", {
        below: stated(BELOW_LOW_MM),
      }),
    );
  if (raw.rimLow === null)
    lines.push(say("The rim is not stated: the lowest place may lie outside the touches."));
  else if (raw.rimLow < raw.lowest)
    lines.push(
      say("The rim goes {lower} lower than any touch if the tilt {tilt} holds there.", {
        lower: mm(raw.lowest - raw.rimLow),
        tilt: signedSlope(raw.tilt),
      }),
    );
  if (raw.alone)
    lines.push(
      say("Only one touch backs the low spot, {gap} below the next: touch round it.", { gap: mm(raw.gap) }),
    );
  if (found.count < 9)
    lines.push(say("{count} touches: a low spot between them is not seen.", { count: found.count }));
  return [...lines, ...weightOf(entry, blankOf(entry))];
}
function blankOf(entry: FaceCut) {
  if (entry.length === undefined || entry.rim === undefined) return null;
  return "radius" in entry.rim
    ? { diameterMm: 2 * entry.rim.radius, lengthMm: entry.length }
    : { widthMm: 2 * entry.rim.x, heightMm: 2 * entry.rim.y, lengthMm: entry.length };
}
