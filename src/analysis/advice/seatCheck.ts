import { once } from "../../model/once.ts";
import {
  feature,
  features,
  type Inputs,
  optional,
  place,
  plainNumber,
  positiveLength,
  refined,
} from "../../model/plan/fields.ts";
import { type Said, type SaidValue, say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import type { AdviceKind } from "./contract.ts";
import { advised, firstUnfitted, undecided, withoutFeature } from "./shared/answer.ts";
import { boltByBolt } from "./shared/boltByBolt.ts";
import { cleanFirst } from "./shared/cautions.ts";
import { type Debris, debrisUnder } from "./shared/debris.ts";
import { faceSlopes, ORIENTATIONS, sideLean } from "./shared/slopes.ts";
import { cosSin } from "./shared/turn.ts";
import { doubtOf } from "./shared/uncertainty.ts";
import { mm, signedMm, signedSlope, stated } from "./shared/words.ts";

/** The thinnest blade of a common feeler set, 0.0015 in (common practice, no source). */
const THINNEST_FEELER_MM = 0.04;

const inputs = once(() => ({
  of: feature(),
  base: refined(place(), (p) => (p.x ?? 1) > 0 && (p.z ?? 1) > 0, "expected base lengths above zero"),
  height: positiveLength(),
  chip: optional(positiveLength()),
  /** A face 90 degrees on: the side face itself, or the face that looks at the spindle after `second-b` degrees of B. */
  second: optional(feature()),
  "second-b": optional(plainNumber()),
  /** The face 180 degrees on: what flips with it is the seat, what stays is the face or the machine. */
  opposite: optional(feature()),
  /** The same face after one bolt each was pulled, in that order (header `bolt`). */
  bolts: optional(features()),
}));
type SeatCheck = Readonly<Inputs<typeof inputs>>;
const EMPTY = {
  leanOverHeight: null,
  edge: null,
  edgeThickness: null,
  cornerThickness: null,
  chipLean: null,
};

/**
 * What a lean means as debris under the base, and the reverse. A lean b over a base of length L is debris of thickness
 * |b| L under the far edge of the way it leans; a chip of thickness t under one edge leans a height H by H t / L. Under
 * a corner the base pivots on the diagonal: lever x z / sqrt(x^2 + z^2). Lengths in mm. Source: own derivation.
 */
export const seatCheck: AdviceKind<typeof inputs> = {
  kind: "seat-check",
  turn: 1,
  mends: ORIENTATIONS,
  inputs,
  advise(entry, context) {
    const names = [entry.of, entry.second, entry.opposite].filter((name) => name !== undefined);
    const unfitted = firstUnfitted(names.map((name) => context.feature(name)));
    if (unfitted) return withoutFeature(unfitted, entry.of, EMPTY);
    const leans = leansOf(entry, context);
    if (leans.trouble !== null) return undecided({ of: entry.of, headline: leans.trouble, values: EMPTY });
    const depth = entry.base.z;
    const debris = debrisUnder({
      leanZ: leans.seat,
      leanX: leans.side,
      sideSignUnknown: leans.sideSignUnknown,
      base: entry.base,
      noise: leans.noise,
    });
    const values = {
      leanOverHeight: leans.face * entry.height,
      edge: debris.edge,
      edgeThickness: debris.edgeThickness,
      cornerThickness: debris.cornerThickness,
      chipLean: entry.chip === undefined || depth === null ? null : (entry.height * entry.chip) / depth,
    };
    const bolts = boltByBolt(entry.bolts ?? [], entry.height, context);
    return advised({
      of: entry.of,
      values,
      headline: bolts.loose ?? headlineOf(entry, leans, debris),
      working: [
        ...leans.working,
        ...debrisLines(entry, leans, debris),
        ...chipLine(entry, values.chipLean),
        ...bolts.lines,
      ],
      expect:
        debris.edge === null
          ? null
          : say("With the debris gone the lean over {height} is near zero.", {
              height: stated(entry.height),
            }),
      next: nextCheck(entry, debris),
      cautions: [cleanFirst(), ...leans.cautions],
      plot: sidePlot(entry, leans, debris),
    });
  },
};

interface Leans {
  /** dZ/dY of `of` as measured. */
  readonly face: number;
  /** What of it belongs to the seat. */
  readonly seat: number;
  /** Sideways lean dX/dY of the column, plus = top towards +X; null without a second face. */
  readonly side: number | null;
  readonly sideSignUnknown: boolean;
  /** Expanded uncertainty of the slope; 0 when not known. */
  readonly noise: number;
  readonly working: readonly Said[];
  readonly cautions: readonly Said[];
  readonly trouble: Said | null;
}

/** The column from the side that shows the named edge. */
function sidePlot(entry: SeatCheck, leans: Leans, { edge }: Debris) {
  const sideways = edge === "+x" || edge === "-x";
  const lean = (sideways ? (leans.side ?? 0) : leans.seat) * entry.height;
  return {
    kind: "seat-check",
    data: { depth: sideways ? entry.base.x : entry.base.z, height: entry.height, lean, edge },
  };
}

function leansOf(entry: SeatCheck, context: AnalysisContext): Leans {
  const of = context.feature(entry.of) as FittedFeature;
  const face = faceSlopes(of).slopeY;
  const none = { face: 0, seat: 0, side: null, sideSignUnknown: false, noise: 0, working: [], cautions: [] };
  if (face === null)
    return {
      ...none,
      trouble: say("{of} cannot tell the lean: touch a face, or sweep along Y.", { of: entry.of }),
    };
  const noise = doubtOf(of, (geometry) => faceSlopes(of, geometry).slopeY) ?? 0;
  const opposite = entry.opposite === undefined ? null : (context.feature(entry.opposite) as FittedFeature);
  const behind = opposite === null ? null : faceSlopes(opposite).slopeY;
  const second = entry.second === undefined ? null : (context.feature(entry.second) as FittedFeature);
  const side = second === null ? { lean: null, unknown: false } : sideOf(second, entry, context);
  const seat = behind === null ? face : (face - behind) / 2;
  return {
    face,
    seat,
    side: side.lean,
    sideSignUnknown: side.unknown,
    noise,
    working: leanLines({ face, behind, seat, of: entry.of, side: side.lean, noise }),
    cautions:
      behind === null
        ? [say("One face cannot tell the seat from the face or the machine: sweep the opposite face too.")]
        : [],
    trouble: null,
  };
}

/** The sideways lean from a face that looks along X, or from one swept after a quarter turn of B. */
function sideOf(second: FittedFeature, entry: SeatCheck, context: AnalysisContext) {
  const direct = sideLean(second);
  if (direct !== null) return { lean: direct, unknown: false };
  const turned = faceSlopes(second).slopeY;
  if (turned === null) return { lean: null, unknown: false };
  // b = -lean sin(th) for the face that B has turned to the spindle.
  const { sin } = cosSin(entry["second-b"] ?? 90);
  const sense = context.plan.machine.bSense;
  return Math.abs(sin) < 0.5
    ? { lean: null, unknown: false }
    : { lean: (-turned / sin) * (sense ?? 1), unknown: sense === null };
}

function leanLines(about: {
  readonly face: number;
  readonly behind: number | null;
  readonly seat: number;
  readonly of: string;
  readonly side: number | null;
  readonly noise: number;
}): Said[] {
  const { face, behind, seat, of, side, noise } = about;
  const known = noise > 0 ? say(" ± {doubt}", { doubt: { slope: noise } }) : "";
  const lines = [say("lean dZ/dY of {of} = {face}{known}", { of, face: signedSlope(face), known })];
  if (behind !== null)
    lines.push(
      say(
        "half the difference to the opposite face ({behind}) is the seat: {seat}; half the sum, {rest}, is not",
        {
          behind: signedSlope(behind),
          seat: signedSlope(seat),
          rest: signedSlope((face + behind) / 2),
        },
      ),
    );
  if (side !== null)
    lines.push(say("sideways lean dX/dY from the second face = {side}", { side: signedSlope(side) }));
  return lines;
}

function headlineOf(entry: SeatCheck, leans: Leans, debris: Debris): Said {
  const values: Record<string, SaidValue> = {
    lean: signedMm(leans.face * entry.height),
    height: stated(entry.height),
    place: debris.edge ?? "",
    thickness: mm(debris.thickness ?? 0),
  };
  if (debris.edge === null && debris.thickness === null && debris.note === "no-length")
    return say("Lean {lean} over {height}: state the base's length along Z to tell the debris.", values);
  if (debris.note === "level") return say("Lean {lean} over {height}: nothing under the base shows.", values);
  if (debris.note === "unnamed-corner")
    return say(
      "Lean {lean} over {height}: debris of {thickness} under a corner; which one needs the sense of B.",
      values,
    );
  const thin = (debris.thickness ?? 0) < THINNEST_FEELER_MM ? say(", too thin for a feeler") : "";
  return say(
    debris.note === "corner"
      ? "Lean {lean} over {height}: like debris of {thickness} under the {place} corner{thin}"
      : "Lean {lean} over {height}: like debris of {thickness} under the {place} edge{thin}",
    { ...values, thin },
  );
}

function debrisLines(entry: SeatCheck, leans: Leans, debris: Debris): Said[] {
  const lines: Said[] = [];
  const { x, z } = entry.base;
  if (z !== null)
    lines.push(
      say("edge: |{slope}| x {length} = {thickness} under the {edge} edge", {
        slope: signedSlope(leans.seat),
        length: stated(z),
        thickness: mm(Math.abs(leans.seat) * z),
        edge: leans.seat > 0 ? "-z" : "+z",
      }),
    );
  if (x !== null && leans.side !== null)
    lines.push(
      say("edge: |{slope}| x {length} = {thickness} under the {edge} edge", {
        slope: signedSlope(leans.side),
        length: stated(x),
        thickness: mm(Math.abs(leans.side) * x),
        edge: leans.sideSignUnknown ? say("-x or +x") : leans.side > 0 ? "-x" : "+x",
      }),
    );
  if (debris.note === "corner" && debris.lever !== null)
    lines.push(
      say("corner: tilt {tilt} along the diagonal x lever {lever} = {thickness}", {
        tilt: { slope: Math.hypot(leans.seat, leans.side ?? 0) },
        lever: mm(debris.lever),
        thickness: mm(debris.cornerThickness ?? 0),
      }),
    );
  if (debris.thickness !== null)
    lines.push(
      say("the thinnest feeler finds {feeler}; the debris would be {thickness}", {
        feeler: stated(THINNEST_FEELER_MM),
        thickness: mm(debris.thickness),
      }),
    );
  return lines;
}

function chipLine(entry: SeatCheck, lean: number | null): Said[] {
  const { x, z } = entry.base;
  if (lean === null || entry.chip === undefined || z === null) return [];
  const values = {
    chip: stated(entry.chip),
    height: stated(entry.height),
    length: stated(z),
    lean: mm(lean),
  };
  const edge = say(
    "a chip of {chip} under an edge leans {height} by {height} x {chip} / {length} = {lean}",
    values,
  );
  if (x === null) return [edge];
  const lever = (x * z) / Math.hypot(x, z);
  return [
    edge,
    say("under a corner: {height} x {chip} / {lever} = {lean} along the diagonal", {
      ...values,
      lever: mm(lever),
      lean: mm((entry.height * entry.chip) / lever),
    }),
  ];
}

function nextCheck(entry: SeatCheck, debris: Debris): Said {
  if (debris.note === "level") return say("Indicator on the top: slacken and tighten one bolt at a time.");
  if (entry.second === undefined)
    return say(
      "Lift, wipe and stone the seat, sweep again; a face 90 degrees on tells an edge from a corner.",
    );
  return say("Lift, wipe and stone the seat, look under the named place, sweep again.");
}
