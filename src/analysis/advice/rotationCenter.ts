import { fitCircle2 } from "../../math/fitCircle2.ts";
import { points2 } from "../../math/points.ts";
import type { RotationFit } from "../../math/rotationFit.ts";
import { once } from "../../model/once.ts";
import { featuresByIndex, type Inputs, optional, place } from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import type { Advice, AdviceKind } from "./contract.ts";
import { advised, firstUnfitted, fittedOnly, undecided, withoutFeature } from "./shared/answer.ts";
import { keepClear, offsetsMove } from "./shared/cautions.ts";
import { assumedFrame } from "./shared/frame.ts";
import { byIndex } from "./shared/indices.ts";
import { bothSenses, type Indexed, type SenseFits, senseMatters } from "./shared/rotation.ts";
import { placeUnknown, placeUnknownText } from "./shared/tip.ts";
import { centerTrend } from "./shared/trend.ts";
import { carry } from "./shared/turn.ts";
import { mm, signedMm, signedSlope, unsure } from "./shared/words.ts";

const inputs = once(() => ({
  of: featuresByIndex(),
  stored: optional(place()),
  /** The same at another height, for the tilt of the axis. */
  second: optional(featuresByIndex()),
}));
type RotationCenter = Readonly<Inputs<typeof inputs>>;
const EMPTY = { x: null, z: null, arm: null, rms: null, bSense: null, change: null, effects: null };

/**
 * Centre of the B axis from one ball or bore at several B: linear least squares of x = xc + p cos t + q sin t,
 * z = zc - p sin t + q cos t with t = sense x B, for both senses, a circle fit beside it. `change` is centre less stored,
 * `effects[B]` an offset carried with the new centre less the same carried with the stored one. Lengths in mm. Source:
 * linear least squares, own derivation.
 */
export const rotationCenter: AdviceKind<typeof inputs> = {
  kind: "rotation-center",
  turn: 9,
  mends: [],
  inputs,
  advise(entry, context) {
    const faces = byIndex(entry.of, context);
    const unfitted = firstUnfitted([...faces.values()]);
    if (unfitted) return withoutFeature(unfitted, entry.of, EMPTY);
    const target = targetOf(faces as ReadonlyMap<number, FittedFeature>);
    const bad = fittedOnly([...faces.values()]).find(
      (one) => placeUnknown(one) && (one.fit === "plane" || one.fit === "point"),
    );
    if (bad !== undefined) return stop(entry, placeUnknownText(bad));
    const fits = bothSenses(target);
    const sense = fits.shown ?? context.plan.machine.bSense;
    const matters = senseMatters(target.b);
    const fit = sense === -1 ? fits.minus : fits.plus;
    if (fit === null)
      return stop(entry, say("Touch the ball at two indices at least, 180 degrees apart or more of them."));
    if (sense === null && matters)
      return stop(
        entry,
        say("These indices do not show which way B turns: touch at three or more, or state b-sense."),
      );
    return answerFor(entry, context, { target, fits, fit, sense });
  },
  findings(entry, context) {
    const features = fittedOnly([...byIndex(entry.of, context).values()]);
    return [...assumedFrame("rotation-center", features, "machine"), ...senseFindings(entry, context)];
  },
};
const stop = (entry: RotationCenter, headline: Said): Advice =>
  undecided({ of: entry.of, headline, values: EMPTY });

function targetOf(faces: ReadonlyMap<number, FittedFeature>): Indexed {
  const all = [...faces];
  return {
    b: all.map(([index]) => index),
    x: all.map(([, face]) => face.geometry.center[0]),
    z: all.map(([, face]) => face.geometry.center[2]),
  };
}

function senseFindings(entry: RotationCenter, context: AnalysisContext) {
  const all = [...byIndex(entry.of, context)];
  if (all.some(([, face]) => !face.ok)) return [];
  const { shown } = bothSenses(targetOf(new Map(all) as ReadonlyMap<number, FittedFeature>));
  const stated = context.plan.machine.bSense;
  if (shown === null || stated === null || shown === stated) return [];
  return [
    {
      level: "error" as const,
      code: "b-sense-contradicted",
      text: say("The ball at several B shows sense {shown}, the plan states b-sense {stated}.", {
        shown: signed(shown),
        stated: signed(stated),
      }),
      hint: say("Check the order of the indices and the sign of B, then the plan's machine block."),
    },
  ];
}
const signed = (sense: 1 | -1 | null): string => (sense === null ? "not known" : sense === 1 ? "+1" : "-1");

interface Found {
  readonly target: Indexed;
  readonly fits: SenseFits;
  readonly fit: RotationFit;
  readonly sense: 1 | -1 | null;
}

function answerFor(entry: RotationCenter, context: AnalysisContext, found: Found): Advice {
  const { fit, sense, target } = found;
  const change = changeOf(entry, fit);
  const values = {
    x: fit.xc,
    z: fit.zc,
    arm: fit.arm,
    rms: fit.rms,
    bSense: sense,
    change,
    effects: effectsOf(target.b, change, sense),
  };
  const trend = centerTrend(context.history, fit.xc, fit.zc);
  const contradicted = senseFindings(entry, context).map((finding) => finding.text);
  return advised({
    of: entry.of,
    values,
    headline: headlineOf(fit, change),
    moves:
      change === null
        ? []
        : (["x", "z"] as const).flatMap((along) => {
            const amount = change[along];
            return amount === null ? [] : [{ at: "B centre", along, amount, unit: "mm" as const }];
          }),
    expect:
      target.b.length > 2
        ? say("Touched again and carried to every B the ball is found within {rms}.", {
            rms: unsure(Math.max(2 * fit.rms, 0.0001)),
          })
        : say("A second pair of indices, 90 degrees on, gives the same centre."),
    next: say("Store the centre with time and temperature; touch one face at 0 and 180 to prove it."),
    working: [
      ...fitLines(found),
      ...effectLines(values.effects),
      ...tiltLines(entry, context, found),
      ...trend,
    ],
    cautions: [...contradicted, offsetsMove(), keepClear()],
    plot: { kind: "rotation-center", data: pictureOf(target, fit) },
  });
}

/** The balls, the centre, and what is left over at each index when the fitted ball is carried there. */
const pictureOf = (target: Indexed, fit: RotationFit) => ({
  ...target,
  center: [fit.xc, fit.zc],
  arm: fit.arm,
  leftX: [...fit.residualsX],
  leftZ: [...fit.residualsZ],
});

type Change = { readonly x: number | null; readonly z: number | null };
function changeOf(entry: RotationCenter, fit: RotationFit): Change | null {
  if (entry.stored === undefined) return null;
  const { x, z } = entry.stored;
  return { x: x === null ? null : fit.xc - x, z: z === null ? null : fit.zc - z };
}

/** A fixed place carried with the centre moved by `change`, less the same with the centre left: a rotation about 0 of -change, plus change. */
function effectsOf(b: readonly number[], change: Change | null, sense: 1 | -1 | null) {
  if (change === null || change.x === null || change.z === null) return null;
  const moved = { x: change.x, z: change.z };
  if (sense === null && senseMatters([0, ...b])) return null;
  return Object.fromEntries(
    b.map((index) => {
      const at = carry({ x: 0, z: 0 }, moved, index, sense ?? 1);
      return [String(index), { x: zeroed(at.x), z: zeroed(at.z) }];
    }),
  );
}
const zeroed = (value: number): number => (value === 0 ? 0 : value);

function headlineOf(fit: RotationFit, change: Change | null): Said {
  const at = { x: signedMm(fit.xc), z: signedMm(fit.zc) };
  if (change === null || (change.x === null && change.z === null)) return say("B centre X {x}, Z {z}", at);
  return say("B centre X {x}, Z {z}: moved X {dx}, Z {dz} since stored", {
    ...at,
    dx: signedMm(change.x ?? 0),
    dz: signedMm(change.z ?? 0),
  });
}

function fitLines({ target, fits, fit, sense }: Found): Said[] {
  const lines = target.b.map((b, i) =>
    say("B{b}: X {x}, Z {z}, left over X {rx}, Z {rz}", {
      b,
      x: signedMm(target.x[i] ?? 0),
      z: signedMm(target.z[i] ?? 0),
      rx: unsure(fit.residualsX[i] ?? 0, { signed: true }),
      rz: unsure(fit.residualsZ[i] ?? 0, { signed: true }),
    }),
  );
  for (const [name, one] of [
    ["+1", fits.plus],
    ["-1", fits.minus],
  ] as const)
    if (one !== null)
      lines.push(
        say(
          sense !== null && signed(sense) !== name
            ? "sense {name}: rms {rms}, the wrong one"
            : "sense {name}: rms {rms}",
          {
            name,
            rms: unsure(one.rms),
          },
        ),
      );
  const circle = fitCircle2(points2(target.b.map((_, i) => [target.x[i] ?? 0, target.z[i] ?? 0] as const)));
  if (circle.ok)
    lines.push(
      say("circle without the angles: centre X {x}, Z {z}, arm {arm}", {
        x: signedMm(circle.center[0]),
        z: signedMm(circle.center[1]),
        arm: mm(circle.radius),
      }),
    );
  return lines;
}
function effectLines(effects: ReturnType<typeof effectsOf>): Said[] {
  if (effects === null) return [];
  return Object.entries(effects).map(([b, at]) =>
    say("offset carried to B{b} changes by X {x}, Z {z}", { b, x: signedMm(at.x), z: signedMm(at.z) }),
  );
}

/** Two heights give the tilt of the axis: how far the centre wanders for each length of Y. */
function tiltLines(entry: RotationCenter, context: AnalysisContext, { fit, sense }: Found): Said[] {
  if (entry.second === undefined) return [];
  const upper = byIndex(entry.second, context);
  if (firstUnfitted([...upper.values()]))
    return [say("the second height is not measured: no tilt of the axis")];
  const faces = upper as ReadonlyMap<number, FittedFeature>;
  const other = bothSenses(targetOf(faces))[sense === -1 ? "minus" : "plus"];
  const meanY = (all: Iterable<FittedFeature>): number => {
    const heights = [...all].map((face) => face.geometry.center[1]);
    return heights.reduce((total, y) => total + y, 0) / heights.length;
  };
  const lower = byIndex(entry.of, context) as ReadonlyMap<number, FittedFeature>;
  const rise = meanY(faces.values()) - meanY(lower.values());
  if (other === null || Math.abs(rise) < 1)
    return [say("the second height tells no tilt: it must lie higher or lower")];
  return [
    say("tilt of the axis over {rise} of Y: dX/dY {x}, dZ/dY {z}", {
      rise: mm(Math.abs(rise)),
      x: signedSlope((other.xc - fit.xc) / rise),
      z: signedSlope((other.zc - fit.zc) / rise),
    }),
  ];
}
