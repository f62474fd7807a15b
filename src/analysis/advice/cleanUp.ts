import type { Points2 } from "../../math/points.ts";
import type { Vec2 } from "../../math/vector.ts";
import { inscribedCircle } from "../../math/zones/inscribedCircle.ts";
import { once } from "../../model/once.ts";
import {
  centerXY,
  feature,
  type Inputs,
  lengthFromZero,
  optional,
  positiveLength,
} from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { Move } from "../../model/setupReport.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { at, thinned } from "../thinned.ts";
import type { Advice, AdviceKind } from "./contract.ts";
import { advised, undecided, withoutFeature } from "./shared/answer.ts";
import { offsetsMove } from "./shared/cautions.ts";
import { type Round, roundAbout, widestChord } from "./shared/roundAbout.ts";
import { placeUnknown, placeUnknownText } from "./shared/tip.ts";
import { weightInputs, weightOf } from "./shared/weightInputs.ts";
import { deg, mm, signedMm, stated, unsure } from "./shared/words.ts";

const inputs = once(() => ({
  of: feature(),
  finished: positiveLength(),
  center: optional(centerXY()),
  allowance: optional(lengthFromZero()),
  ...weightInputs(),
}));
type CleanUp = Readonly<Inputs<typeof inputs>>;
const EMPTY = {
  inscribedDiameter: null,
  bestCenter: null,
  stockHere: null,
  stockBest: null,
  leastAngle: null,
  heaviest: null,
  cleansHere: null,
  cleansBest: null,
  unseenFlat: null,
};
/** Finish at most this part of hot-rolled bar: 1.6 % of stock per side (common practice, no source). */
const BAR_RULE = 0.968;

/**
 * Whether a raw round cleans up at its finished diameter, where it sits and at the best place. Touches of all heights are
 * dropped along Z on one plane, as a cylinder parallel to the tool sees them; the best centre is that of the largest
 * inscribed circle. Stock is per side: least distance from the centre less the finished radius; `heaviest` the largest at
 * the best centre. Lengths in mm, `leastAngle` in degrees about `center`. Source: largest empty circle, own derivation.
 */
export const cleanUp: AdviceKind<typeof inputs> = {
  kind: "clean-up",
  turn: 8,
  mends: [
    "roundness",
    "cylindricity",
    "straightness",
    "lobing",
    "diameter",
    "position",
    "coaxiality",
    "runout",
    "eccentricity",
  ],
  inputs,
  advise(entry, context) {
    const found = context.feature(entry.of);
    if (!found.ok) return withoutFeature(found, entry.of, EMPTY);
    const refuse = (headline: Said): Advice => undecided({ of: entry.of, headline, values: EMPTY });
    const axis = found.geometry.direction;
    if (found.geometry.radius === null || axis === null || Math.abs(axis[2]) < 0.9)
      return refuse(say("{of} is no round about Z.", { of: entry.of }));
    if (found.plan?.surface === "bore")
      return refuse(say("{of} is a bore: this tells whether an outside round cleans up.", { of: entry.of }));
    const across: Points2 = { x: found.points.x, y: found.points.y };
    const inscribed = inscribedCircle(across);
    if (!inscribed.ok) return refuse(say("{of}: {reason}", { of: entry.of, reason: say(inscribed.text) }));
    return answerFor(entry, found, across, inscribed);
  },
};

interface Judged {
  readonly here: Round;
  readonly best: Round;
  readonly stockHere: number;
  readonly stockBest: number;
  readonly allowance: number;
  /** Expanded uncertainty of one touch; 0 when not stated. */
  readonly doubt: number;
  readonly center: Vec2;
  readonly bestCenter: Vec2;
}

function answerFor(
  entry: CleanUp,
  found: FittedFeature,
  across: Points2,
  inscribed: { readonly center: Vec2; readonly radius: number },
): Advice {
  const center = entry.center ?? ([0, 0] as const);
  const [here, best] = [roundAbout(across, center), roundAbout(across, inscribed.center)];
  const finishedRadius = entry.finished / 2;
  const judged: Judged = {
    here,
    best,
    stockHere: here.least - finishedRadius,
    stockBest: inscribed.radius - finishedRadius,
    allowance: entry.allowance ?? 0,
    doubt: 2 * (found.scale.statedMm ?? 0),
    center,
    bestCenter: inscribed.center,
  };
  const unseenFlat = widestChord(across, inscribed.center, inscribed.radius);
  const unknown = placeUnknown(found);
  const places = { bestCenter: [...inscribed.center], leastAngle: here.leastAngle };
  const values = unknown
    ? { ...EMPTY, ...places }
    : {
        inscribedDiameter: 2 * inscribed.radius,
        ...places,
        stockHere: judged.stockHere,
        stockBest: judged.stockBest,
        heaviest: best.most - finishedRadius,
        cleansHere: judged.stockHere >= judged.allowance,
        cleansBest: judged.stockBest >= judged.allowance,
        unseenFlat,
      };
  const moves = movesOf(judged);
  const drawn = thinned(across.x.map((x, i) => Math.hypot(x - center[0], across.y[i]! - center[1])));
  const answer = {
    of: entry.of,
    values,
    moves,
    expect:
      answered(judged.stockHere, judged) === "yes"
        ? say("Turned where it is, the whole outside is cut.")
        : say("Touched again after the shift the least stock is the same on two or three sides: {stock}", {
            stock: mm(judged.stockBest),
          }),
    next: say(
      "The centre of the finished part moves too: check stock at the far end, face features and jaw clearance.",
    ),
    working: workingOf(entry, judged, found),
    cautions: cautionsOf(entry, found, unseenFlat, judged),
    plot: {
      kind: "clean-up",
      data: {
        x: at(drawn, across.x),
        y: at(drawn, across.y),
        finished: entry.finished,
        center: [...center],
        best: [...inscribed.center],
        inscribed: 2 * inscribed.radius,
      },
    },
  };
  if (unknown) return undecided({ ...answer, headline: placeUnknownText(found) });
  const halt = answered(judged.stockHere, judged) === "no";
  return advised({ ...answer, headline: headlineOf(judged), halt });
}

/** The work offset goes to the best centre. */
function movesOf({ center, bestCenter }: Judged): Move[] {
  return (["x", "y"] as const).map((along, i) => ({
    at: "work offset",
    along,
    amount: (bestCenter[i] ?? 0) - (center[i] ?? 0),
    unit: "mm" as const,
  }));
}

type Answered = "yes" | "no" | "not shown";
const answered = (stock: number, { allowance, doubt }: Judged): Answered =>
  Math.abs(stock - allowance) < doubt ? "not shown" : stock >= allowance ? "yes" : "no";

function headlineOf(judged: Judged): Said {
  const [here, best] = [answered(judged.stockHere, judged), answered(judged.stockBest, judged)];
  const values = {
    here: signedMm(judged.stockHere),
    best: signedMm(judged.stockBest),
    x: signedMm(judged.bestCenter[0] - judged.center[0]),
    y: signedMm(judged.bestCenter[1] - judged.center[1]),
    at: deg(judged.here.leastAngle, 0),
    doubt: unsure(judged.doubt),
  };
  if (here === "yes") return say("Cleans up here: least stock {here} per side, at {at}", values);
  if (best === "yes" && here === "no")
    return say("Not here ({here}); cleans up with X {x}, Y {y}: {best} per side", values);
  if (best === "yes")
    return say("Not shown here ({here} ± {doubt}); with X {x}, Y {y}: {best} per side", values);
  if (best === "not shown")
    return say("Not shown: {best} ± {doubt} per side at the best place X {x}, Y {y}", values);
  return say("Will NOT clean up: {best} per side even at the best place.", values);
}

function workingOf(entry: CleanUp, judged: Judged, found: FittedFeature): Said[] {
  const lines = [
    say("here: least {least} from the centre at {at} - finished radius {radius} = {stock}", {
      least: mm(judged.here.least),
      at: deg(judged.here.leastAngle),
      radius: stated(entry.finished / 2),
      stock: signedMm(judged.stockHere),
    }),
    say(
      "best: largest inscribed circle, diameter {diameter} at X {x}, Y {y}; less {finished}, halved = {stock}",
      {
        diameter: mm(2 * judged.best.least),
        x: signedMm(judged.bestCenter[0]),
        y: signedMm(judged.bestCenter[1]),
        finished: stated(entry.finished),
        stock: signedMm(judged.stockBest),
      },
    ),
    say("heaviest side at the best place: {most} - {radius} = {heavy}, at {at}", {
      most: mm(judged.best.most),
      radius: stated(entry.finished / 2),
      heavy: mm(judged.best.most - entry.finished / 2),
      at: deg(judged.best.mostAngle),
    }),
    judged.doubt > 0
      ? say("wanted per side {allowance}, each touch ± {doubt}", {
          allowance: stated(judged.allowance),
          doubt: unsure(judged.doubt),
        })
      : say("wanted per side {allowance}; the uncertainty of a touch is not stated", {
          allowance: stated(judged.allowance),
        }),
  ];
  const [extent, axis] = [found.extent, found.geometry.direction];
  if (found.fit === "cylinder" && extent !== null && axis !== null) {
    const height = Math.abs(extent[1] - extent[0]);
    const lean = Math.hypot(axis[0], axis[1]) * height;
    lines.push(
      say("the round leans {lean} over {height}: all heights are counted together", {
        lean: mm(lean),
        height: mm(height),
      }),
    );
  }
  return lines;
}

function cautionsOf(entry: CleanUp, found: FittedFeature, unseenFlat: number, judged: Judged): Said[] {
  const raw = 2 * (found.geometry.radius ?? 0);
  const lines = [
    say(
      "{count} touches: nothing is known of flats or dings narrower than {flat} between them. Hold a margin.",
      {
        count: found.count,
        flat: mm(unseenFlat, 1),
      },
    ),
    offsetsMove(),
  ];
  if (entry.finished > BAR_RULE * raw)
    lines.push(
      say(
        "Less than 1.6 % of stock per side: more than hot-rolled bar is promised to clean up at (common practice).",
      ),
    );
  if (judged.here.surrounded === false)
    lines.push(say("The touches do not go round: the side without touches is not judged."));
  return [
    ...lines,
    ...weightOf(entry, entry.length === undefined ? null : { diameterMm: raw, lengthMm: entry.length }),
  ];
}
