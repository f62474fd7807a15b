import { once } from "../../model/once.ts";
import { feature, features, type Inputs, optional } from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import type { Advice, AdviceKind } from "./contract.ts";
import { advised, firstUnfitted, fittedOnly, undecided, withoutFeature } from "./shared/answer.ts";
import { faceSlopes } from "./shared/slopes.ts";
import { type Thickness, thicknessBetween, thicknessOfMap } from "./shared/thickness.ts";
import { placeUnknown, placeUnknownText } from "./shared/tip.ts";
import { doubtOf } from "./shared/uncertainty.ts";
import { deg, mm, signedMm, signedSlope } from "./shared/words.ts";

const inputs = once(() => ({
  first: optional(feature()),
  second: optional(feature()),
  map: optional(feature()),
  /** The seat as touched before the part was set on it. */
  seat: optional(feature()),
  /** The new face swept again after each unclamping and seating. */
  "re-clamped": optional(features()),
}));
type TurnedOver = Readonly<Inputs<typeof inputs>>;
const EMPTY = { parallelism: null, wedgeX: null, wedgeY: null, thickAngle: null, thickness: null };
/** A wedge that differs from the seat's by less than this part of the larger looks like the seat. */
const ALIKE = 0.35;

/**
 * Wedge and thickness of a part that was turned over: from its two faces in one setup, or from a map of thickness
 * readings. Parallelism is the range of the distances from `first` (of the readings of a map); the wedge is the slope of
 * the thickness over X and Y, mm per mm; the seat's own slope shows whether seat or cut made it. Source: own derivation.
 */
export const turnedOver: AdviceKind<typeof inputs> = {
  kind: "turned-over",
  turn: 6,
  mends: [],
  inputs,
  advise(entry, context) {
    const names =
      entry.map !== undefined ? [entry.map] : [entry.first, entry.second].filter((one) => one !== undefined);
    const of = entry.map ?? names;
    const refuse = (headline: Said): Advice => undecided({ of, headline, values: EMPTY });
    if (entry.map === undefined && names.length < 2)
      return refuse(say("State first and second, two faces of one setup, or a map of thickness."));
    const results = names.map((name) => context.feature(name));
    const unfitted = firstUnfitted(results);
    if (unfitted) return withoutFeature(unfitted, of, EMPTY);
    const faces = fittedOnly(results);
    const tilted = faces.find((face) => face.fit !== "plane" || faceSlopes(face).slopeX === null);
    if (tilted !== undefined) return refuse(say("{of} is no face that looks along Z.", { of: tilted.name }));
    const [first, second] = faces;
    if (first === undefined) return refuse(say("State first and second, or a map of thickness."));
    if (second === undefined) return answerFor(entry, context, { of, faces, thick: thicknessOfMap(first) });
    const apart = differentSetups(first, second, context);
    if (apart !== null) return refuse(apart);
    const thick = thicknessBetween(first, second);
    if (thick.mean < 1e-3 * thick.span)
      return refuse(
        say("{first} and {second} lie in one place: they look like two setups; map the thickness instead.", {
          first: first.name,
          second: second.name,
        }),
      );
    return answerFor(entry, context, { of, faces, thick });
  },
};

/** Why two faces cannot be laid over each other, or null. */
function differentSetups(first: FittedFeature, second: FittedFeature, context: AnalysisContext): Said | null {
  const [a, b] = [first.measured, second.measured];
  if (a === null || b === null) return null;
  const setup = (log: number): string | undefined => context.set.logs[log]?.header.setup;
  const values = { first: first.name, second: second.name };
  if ((a.frame ?? b.frame) !== (b.frame ?? a.frame))
    return say("{first} and {second} are in different coordinates: map the thickness instead.", values);
  if (setup(a.log) !== setup(b.log))
    return say("{first} and {second} come from different setups: map the thickness instead.", values);
  return null;
}

interface Judged {
  readonly of: string | readonly string[];
  readonly faces: readonly FittedFeature[];
  readonly thick: Thickness;
}

function answerFor(entry: TurnedOver, context: AnalysisContext, judged: Judged): Advice {
  const { thick, faces, of } = judged;
  // Both faces must have their tip off before a distance between them is a thickness.
  const unknown = entry.map === undefined ? (faces.find(placeUnknown) ?? null) : null;
  const values = {
    parallelism: thick.range,
    wedgeX: thick.wedgeX,
    wedgeY: thick.wedgeY,
    thickAngle: thick.thickAngle,
    thickness: unknown === null ? thick.mean : null,
  };
  const doubt = wedgeDoubt(faces);
  const wedge = Math.hypot(thick.wedgeX, thick.wedgeY);
  const shows = doubt === null || wedge > doubt;
  const cause = seatOrCut(entry, context, thick, shows);
  const clamps = reClamped(entry, context, thick.span);
  return advised({
    of,
    values,
    headline: headlineOf(thick, { wedge, shows, unknown: unknown !== null }),
    expect: shows
      ? say("On a clean seat, cut again, thickness is alike all round.")
      : say("Thickness is alike all round within the readings."),
    next: cause.next,
    working: [...workingOf(thick, wedge, doubt), ...cause.lines, ...clamps],
    cautions: [
      ...(unknown === null ? [] : [placeUnknownText(unknown)]),
      ...(faces.length === 2
        ? [
            say(
              "Distances are from a least-squares plane; a micrometer rests on high spots and does not see a common bow.",
            ),
          ]
        : [say("A range of thickness is not parallelism where the first face is not flat.")]),
    ],
    plot: { kind: "turned-over", data: thick.plot },
  });
}

function headlineOf(
  thick: Thickness,
  about: { readonly wedge: number; readonly shows: boolean; readonly unknown: boolean },
): Said {
  const values = {
    wedge: mm(about.wedge * thick.span),
    span: mm(thick.span, 1),
    at: deg(thick.thickAngle ?? 0, 0),
    range: mm(thick.range),
    size: about.unknown ? "" : say("; thickness {thickness}", { thickness: mm(thick.mean) }),
  };
  if (!about.shows || thick.thickAngle === null) return say("No wedge shows, range {range}{size}", values);
  return say("Wedge {wedge} over {span}, thick side at {at}{size}", values);
}

function workingOf(thick: Thickness, wedge: number, doubt: number | null): Said[] {
  return [
    say("slope of thickness: X {x}, Y {y}; together {wedge}, times {span} = {over}", {
      x: signedSlope(thick.wedgeX),
      y: signedSlope(thick.wedgeY),
      wedge: { slope: wedge },
      span: mm(thick.span, 1),
      over: mm(wedge * thick.span),
    }),
    say("largest {most} - smallest {least} = {range}", {
      most: mm(thick.most),
      least: mm(thick.least),
      range: mm(thick.range),
    }),
    ...(doubt === null ? [] : [say("the wedge is known to ± {doubt}", { doubt: { slope: doubt } })]),
    ...(thick.crossSums === null
      ? []
      : [
          say("cross sums: {a} and {b}, apart {apart}", {
            a: mm(thick.crossSums[0]),
            b: mm(thick.crossSums[1]),
            apart: mm(Math.abs(thick.crossSums[0] - thick.crossSums[1])),
          }),
        ]),
  ];
}

/** Expanded uncertainty of the steeper part of the wedge; null when not known. */
function wedgeDoubt(faces: readonly FittedFeature[]): number | null {
  let square = 0;
  for (const face of faces) {
    const parts = (["slopeX", "slopeY"] as const).map((key) =>
      doubtOf(face, (g) => faceSlopes(face, g)[key]),
    );
    if (parts.some((part) => part === null)) return null;
    square += Math.max(...parts.map((part) => part ?? 0)) ** 2;
  }
  return Math.sqrt(square);
}

/** A face cut square to Z on a sloping seat leaves a wedge of minus the seat's slope. */
function seatOrCut(entry: TurnedOver, context: AnalysisContext, thick: Thickness, shows: boolean) {
  const again = say("Unclamp, seat and sweep the new face three times: the spread is the shift of clamping.");
  if (!shows) return { lines: [], next: again };
  const seat = entry.seat === undefined ? null : context.feature(entry.seat);
  const slopes = seat?.ok ? faceSlopes(seat) : null;
  if (slopes === null || slopes.slopeX === null || slopes.slopeY === null)
    return { lines: [say("the seat was not touched before: seat or cut cannot be told apart")], next: again };
  const [x, y] = [-slopes.slopeX, -slopes.slopeY];
  const apart = Math.hypot(thick.wedgeX - x, thick.wedgeY - y);
  const size = Math.max(Math.hypot(thick.wedgeX, thick.wedgeY), Math.hypot(x, y));
  const values = { x: signedSlope(x), y: signedSlope(y) };
  return apart <= ALIKE * size
    ? {
        lines: [say("the seat's slope alone would leave X {x}, Y {y}: looks like the seat", values)],
        next: say("Clean and true the seat, set the part on it again and sweep before cutting."),
      }
    : {
        lines: [say("the seat's slope alone would leave X {x}, Y {y}: does not look like the seat", values)],
        next: say(
          "Looks like the cut or the clamp: sweep the new face in the clamp and free. True there and a wedge free means it sprang.",
        ),
      };
}

/** How far the new face tilts from one clamping to the next, over the part. */
function reClamped(entry: TurnedOver, context: AnalysisContext, span: number): Said[] {
  const slopes = fittedOnly((entry["re-clamped"] ?? []).map((name) => context.feature(name))).map((face) =>
    faceSlopes(face),
  );
  if (slopes.length < 2) return [];
  const spread = (key: "slopeX" | "slopeY"): number => {
    const values = slopes.map((one) => one[key] ?? 0);
    return (Math.max(...values) - Math.min(...values)) * span;
  };
  return [
    say("{count} clampings: the face tilts by up to {x} over X and {y} over Y", {
      count: slopes.length,
      x: signedMm(spread("slopeX")),
      y: signedMm(spread("slopeY")),
    }),
  ];
}
