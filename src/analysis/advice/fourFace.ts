import { once } from "../../model/once.ts";
import { featuresByIndex, type Inputs, optional, place, positiveLength } from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { Move } from "../../model/setupReport.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import type { AdviceKind } from "./contract.ts";
import { advised, firstUnfitted, fittedOnly, undecided, withoutFeature } from "./shared/answer.ts";
import { boltsLoose, cleanFirst, keepClear } from "./shared/cautions.ts";
import { byIndex, withinTurn } from "./shared/indices.ts";
import { faceSlopes, ORIENTATIONS, planeHeight } from "./shared/slopes.ts";
import { placeUnknown } from "./shared/tip.ts";
import { degrees } from "./shared/turn.ts";
import { deg, mm, signedMm, signedSlope, stated, wayOf } from "./shared/words.ts";

const inputs = once(() => ({
  of: featuresByIndex(),
  height: optional(positiveLength()),
  center: optional(place()),
}));
type FourFace = Readonly<Inputs<typeof inputs>>;
const EMPTY = {
  common: null,
  seatX: null,
  seatZ: null,
  remainder: null,
  yawCommon: null,
  yawRemainder: {},
  widths: {},
  centerX: null,
  centerZ: null,
};
/** A sideways lean, yaw or place is put right only when it is larger than this over 500 mm: half a micrometre. */
const NOTHING = 1e-6;

/**
 * Splits what four faces of a column show at B 0, 90, 180, 270 into its seat (flips with B180), what all faces share (B
 * axis against Y travel, or equal taper), the rest, the turn of the column, and widths and place from the faces' heights.
 * Lean b = common + seatZ cos - seatX sin, by differences of opposite faces; leans and yaws are slopes, mm per mm, yaw
 * with the sign of dZ/dX; lengths in mm about `center`. Two opposite faces give their own half. Source: reversal, own
 * derivation.
 */
export const fourFace: AdviceKind<typeof inputs> = {
  kind: "four-face",
  turn: 3,
  mends: ORIENTATIONS,
  inputs,
  advise(entry, context) {
    const faces = byIndex(entry.of, context);
    const results = [...faces.values()];
    const fitted = fittedOnly(results);
    const unfitted = firstUnfitted(results);
    if (unfitted && fitted.length < 2) return withoutFeature(unfitted, entry.of, EMPTY);
    const seen = new Map(
      [...faces].flatMap(([index, face]) => (face.ok ? [[withinTurn(index), face] as const] : [])),
    );
    const split = splitOf(seen, entry, context);
    const { values } = split;
    const answer = {
      of: entry.of,
      values,
      working: [...split.working, ...unfittedLine(unfitted?.text ?? null)],
    };
    if (values.seatZ === null && values.seatX === null && split.sideways === null)
      return undecided({
        ...answer,
        headline: say("Opposite faces are needed to tell the seat from the rest: sweep B and B + 180."),
      });
    return advised({
      ...answer,
      headline: headlineOf(split, entry.height ?? null),
      plot: { kind: "four-face", data: { b: [...split.lean.keys()], lean: [...split.lean.values()] } },
      moves: yawMove(values.yawCommon),
      expect: say("With the seat clean every face shows the common part only: {common}", {
        common: values.common === null ? say("not known from these faces") : signedSlope(values.common),
      }),
      next: say(
        "One pass cannot tell a wedge of the column from the indexing, nor the B axis from equal taper: seat the column a quarter turn on and sweep again. What stays with the pallet angle is the index or the axis, what moves with the face is the column.",
      ),
      cautions: [
        ...(Object.values(values.widths).some((width) => width <= 0)
          ? [say("Widths and centre are not those of the column: state the centre of B as center.")]
          : []),
        cleanFirst(),
        ...(yawMove(values.yawCommon).length > 0 ? [boltsLoose()] : []),
        keepClear(),
        ...tipCaution(fitted),
      ],
    });
  },
};

interface Split {
  readonly values: {
    readonly common: number | null;
    readonly seatX: number | null;
    readonly seatZ: number | null;
    readonly remainder: number | null;
    readonly yawCommon: number | null;
    readonly yawRemainder: Readonly<Record<string, number>>;
    readonly widths: Readonly<Record<string, number>>;
    readonly centerX: number | null;
    readonly centerZ: number | null;
  };
  /** Sideways lean by its size where the sense of B is not known. */
  readonly sideways: number | null;
  readonly working: readonly Said[];
  /** Lean of each face by its index within one turn. */
  readonly lean: ReadonlyMap<number, number>;
}

function splitOf(seen: ReadonlyMap<number, FittedFeature>, entry: FourFace, context: AnalysisContext): Split {
  const lean = slopesBy(seen, "slopeY");
  const yaw = slopesBy(seen, "slopeX");
  const heights = heightsBy(seen, entry);
  const sense = context.plan.machine.bSense;
  const half = (of: ReadonlyMap<number, number>, plus: number, minus: number): number | null =>
    both(of, plus, minus, (a, b) => zeroed((a - b) / 2));
  const sideways = half(lean, 270, 90);
  const across = half(heights, 270, 90);
  const values = {
    common: meanOfFour(lean),
    seatX: times(sideways, sense),
    seatZ: half(lean, 0, 180),
    remainder: alternating(lean),
    yawCommon: meanOfFour(yaw),
    yawRemainder: lessMean(yaw),
    widths: widthsOf(heights),
    centerX: times(across, sense),
    centerZ: half(heights, 0, 180),
  };
  return { values, sideways, lean, working: workingOf(lean, yaw, heights, values, sense) };
}
const zeroed = (value: number): number => (value === 0 ? 0 : value);
const times = (value: number | null, sense: 1 | -1 | null): number | null =>
  value === null || sense === null ? null : zeroed(sense * value);
function both(
  of: ReadonlyMap<number, number>,
  first: number,
  second: number,
  combine: (a: number, b: number) => number,
): number | null {
  const [a, b] = [of.get(first), of.get(second)];
  return a === undefined || b === undefined ? null : combine(a, b);
}
function four(of: ReadonlyMap<number, number>): readonly [number, number, number, number] | null {
  const [a, b, c, d] = [0, 90, 180, 270].map((index) => of.get(index));
  return a === undefined || b === undefined || c === undefined || d === undefined ? null : [a, b, c, d];
}
function meanOfFour(of: ReadonlyMap<number, number>): number | null {
  const all = four(of);
  if (all !== null) return (all[0] + all[1] + all[2] + all[3]) / 4;
  // One opposite pair cancels the seat as well.
  return both(of, 0, 180, (a, b) => (a + b) / 2) ?? both(of, 90, 270, (a, b) => (a + b) / 2);
}
function alternating(of: ReadonlyMap<number, number>): number | null {
  const all = four(of);
  return all === null ? null : zeroed((all[0] - all[1] + all[2] - all[3]) / 4);
}
function lessMean(of: ReadonlyMap<number, number>): Record<string, number> {
  const mean = meanOfFour(of);
  if (mean === null) return {};
  return Object.fromEntries([...of].map(([index, value]) => [String(index), value - mean]));
}
function widthsOf(heights: ReadonlyMap<number, number>): Record<string, number> {
  const out: Record<string, number> = {};
  for (const [first, second] of [
    [0, 180],
    [90, 270],
  ] as const) {
    const width = both(heights, first, second, (a, b) => a + b);
    if (width !== null) out[String(first)] = width;
  }
  return out;
}

function slopesBy(seen: ReadonlyMap<number, FittedFeature>, key: "slopeX" | "slopeY"): Map<number, number> {
  const out = new Map<number, number>();
  for (const [index, face] of seen) {
    const slope = faceSlopes(face)[key];
    if (slope !== null) out.set(index, slope);
  }
  return out;
}

/** Height of each face over the axis at the axis itself and one common Y, so that lean and yaw do not enter. */
function heightsBy(seen: ReadonlyMap<number, FittedFeature>, entry: FourFace): Map<number, number> {
  const planes = [...seen].filter(
    ([, face]) => face.fit === "plane" && !placeUnknown(face) && faceSlopes(face).slopeX !== null,
  );
  const y =
    planes.reduce((total, [, face]) => total + face.geometry.center[1], 0) / Math.max(1, planes.length);
  const at = { x: entry.center?.x ?? 0, z: entry.center?.z ?? 0 };
  return new Map(planes.map(([index, face]) => [index, planeHeight(face.geometry, at.x, y) - at.z]));
}

function workingOf(
  lean: ReadonlyMap<number, number>,
  yaw: ReadonlyMap<number, number>,
  heights: ReadonlyMap<number, number>,
  values: Split["values"],
  sense: 1 | -1 | null,
): Said[] {
  const lines: Said[] = [];
  for (const index of [0, 90, 180, 270]) {
    const [b, a, h] = [lean.get(index), yaw.get(index), heights.get(index)];
    if (b !== undefined) lines.push(say("B{index}: lean {slope}", { index, slope: signedSlope(b) }));
    if (a !== undefined) lines.push(say("B{index}: yaw {slope}", { index, slope: signedSlope(a) }));
    if (h !== undefined)
      lines.push(say("B{index}: face {height} from the axis", { index, height: signedMm(h) }));
  }
  if (values.common !== null)
    lines.push(say("common = mean of the leans = {value}", { value: signedSlope(values.common) }));
  if (values.seatZ !== null)
    lines.push(say("seat along Z = (B0 - B180) / 2 = {value}", { value: signedSlope(values.seatZ) }));
  if (values.seatX !== null)
    lines.push(
      say("seat along X = sense of B ({sense}) x (B270 - B90) / 2 = {value}", {
        sense: sense === 1 ? "+1" : "-1",
        value: signedSlope(values.seatX),
      }),
    );
  if (values.remainder !== null)
    lines.push(
      say("remainder = (B0 - B90 + B180 - B270) / 4 = {value}", { value: signedSlope(values.remainder) }),
    );
  if (values.yawCommon !== null)
    lines.push(
      say("yaw of the column = mean of the yaws = {value} = {turn}", {
        value: signedSlope(values.yawCommon),
        turn: deg(degrees(Math.atan(values.yawCommon)), 4),
      }),
    );
  for (const [index, width] of Object.entries(values.widths))
    lines.push(
      width > 0
        ? say("width over B{index} and its opposite = {width}", { index, width: mm(width) })
        : say(
            "width over B{index} and its opposite = {width}: no column is that wide. Heights are not taken from the axis of B; state its centre as center.",
            { index, width: mm(width) },
          ),
    );
  if (sense === null)
    lines.push(say("the sense of B is not stated: sideways parts have no sign and are left out"));
  return lines;
}
const unfittedLine = (text: Said | null): Said[] => (text === null ? [] : [text]);

function headlineOf({ values, sideways }: Split, height: number | null): Said {
  const over = height ?? 500;
  const { seatZ, seatX, common } = values;
  const lean = (slope: number, along: "x" | "z"): Said =>
    say("{lean} {way}", { lean: signedMm(slope * over), way: say(wayOf(along, slope < 0 ? -1 : 1)) });
  const parts: Said[] = [];
  if (seatZ !== null) parts.push(lean(seatZ, "z"));
  if (seatX !== null) parts.push(lean(seatX, "x"));
  else if (sideways !== null) parts.push(say("{lean} sideways", { lean: mm(Math.abs(sideways) * over) }));
  const [first, second] = parts;
  const said = {
    over: stated(over),
    first: first ?? "",
    rest: common === null ? "" : say("; {common} is not its seat", { common: signedMm(common * over) }),
  };
  return second === undefined
    ? say("Column leans {first} over {over} at B0{rest}", said)
    : say("Column leans {first} and {second} over {over} at B0{rest}", { ...said, second });
}

/** Turning the column about its own upright takes the common yaw away; positive is anticlockwise seen from above. */
function yawMove(yaw: number | null): Move[] {
  if (yaw === null || Math.abs(yaw) < NOTHING) return [];
  const side = yaw > 0 ? "away from the spindle" : "towards the spindle";
  const turn = yaw > 0 ? "anticlockwise" : "clockwise";
  const words = `${turn} seen from above: right side ${side}`;
  return [{ at: "column", along: "y", amount: degrees(Math.atan(yaw)), unit: "deg", words }];
}
const tipCaution = (faces: readonly FittedFeature[]): Said[] =>
  faces.some((face) => placeUnknown(face))
    ? [say("Not stated whether the tip is taken off: slopes hold, widths and centre are left out.")]
    : [];
