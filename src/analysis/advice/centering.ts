import { fitHarmonics, type Harmonic } from "../../math/harmonics.ts";
import { studentQuantile } from "../../math/studentT.ts";
import { once } from "../../model/once.ts";
import {
  angle,
  choice,
  feature,
  type Inputs,
  lengthFromZero,
  list,
  name,
  object,
  optional,
  positiveLength,
} from "../../model/plan/fields.ts";
import { type Said, say } from "../../model/say.ts";
import type { Move } from "../../model/setupReport.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import { readingScale } from "../fitting/readingScale.ts";
import { at, thinned } from "../thinned.ts";
import type { AdviceKind } from "./contract.ts";
import { advised, undecided, withoutFeature } from "./shared/answer.ts";
import { stepOf } from "./shared/stops.ts";
import { bearing, degrees } from "./shared/turn.ts";
import { doubtOfLength } from "./shared/uncertainty.ts";
import { deg, mm, sayMove, signedMm, stated, unsure, wayOf } from "./shared/words.ts";

const jaw = once(() => ({ name: name(), angle: angle(), pitch: optional(positiveLength()) }));
const inputs = once(() => ({
  of: feature(),
  sag: optional(lengthFromZero()),
  /** What is moved: the part in the chuck, or the chuck. */
  move: optional(choice(["part", "chuck"])),
  jaws: optional(list(object(jaw()))),
  screws: optional(list(object(jaw()))),
  "largest-move": optional(positiveLength()),
}));
type Centering = Readonly<Inputs<typeof inputs>>;
type Jaw = Readonly<Inputs<typeof jaw>>;
const EMPTY = { x: null, y: null, eccentricity: null, ovality: null, lobing3: null, fim: null };

/**
 * Where the centre of a swept or touched round lies from the sweep axis (the log's zero), which way it must go, and what
 * of the movement is form and not eccentricity. Sag of the arm is taken off: true y = measured y - sag, for bore and boss
 * alike. Ovality and three lobes are peak to valley of harmonics about the fitted centre; lengths in mm. Source: a rigid
 * shift is the first harmonic, form the rest (common practice, no source).
 */
export const centering: AdviceKind<typeof inputs> = {
  kind: "centering",
  turn: 5,
  mends: ["runout", "eccentricity", "coaxiality", "position", "offset"],
  inputs,
  advise(entry, context) {
    const found = context.feature(entry.of);
    if (!found.ok) return withoutFeature(found, entry.of, EMPTY);
    const normal = found.geometry.direction;
    if (found.geometry.radius === null || normal === null || Math.abs(normal[2]) < 0.9)
      return undecided({
        of: entry.of,
        values: EMPTY,
        headline: say("{of} is no round about Z: sweep a rim.", { of: entry.of }),
      });
    const sag = sagOf(entry, found);
    const [x, raw] = [found.geometry.center[0], found.geometry.center[1]];
    const y = raw - sag.take;
    const harmonics = harmonicsOf(found);
    const values = {
      x,
      y,
      eccentricity: Math.hypot(x, y),
      ovality: harmonics[1]?.peakToValley ?? null,
      lobing3: harmonics[2]?.peakToValley ?? null,
      fim: fullMovement(found, sag.take),
    };
    const { moves, steps } = stepOf(movesOf(entry, x, y), entry["largest-move"]);
    const wave = waveOf(found, harmonics);
    const doubt = doubtOfLength(wave?.besides ?? found, (g) => [g.center[0], g.center[1] - sag.take]);
    const small = doubt !== null && values.eccentricity < doubt;
    return advised({
      of: entry.of,
      values,
      moves,
      headline: headlineOf(entry, { x, y, moves, steps, small }),
      expect: expectation(found, values.fim, harmonics),
      next: say(
        "Sweep again after the move; then sweep the face, because a true rim can stand on a tilted face.",
      ),
      working: [...sag.lines, ...workingOf(values, harmonics, doubt)],
      shifts: !small && moves.some(({ amount }) => amount !== 0),
      cautions: cautionsOf(found, wave?.harmonic ?? null),
      plot: polarPlot(found, x, raw),
    });
  },
  // Jaws and screws stand in the order of doing, and the headline names the first.
  others: (moves) =>
    moves
      .filter(({ along, amount }) => along === "outward" && amount !== 0)
      .slice(1)
      .map((move) => sayMove(move)),
};

/** What of the sag is still in the points: the header's has been taken out on reading. */
function sagOf(
  entry: Centering,
  found: FittedFeature,
): { readonly take: number; readonly lines: readonly Said[] } {
  const y = found.geometry.center[1];
  const header = found.measured?.sweep?.headerSagMm ?? null;
  if (header !== null)
    return {
      take: 0,
      lines: [say("sag {sag} of the log's header is already taken out", { sag: stated(header) })],
    };
  const swept = found.measured?.sweep?.kind === "rim-sweep";
  if (entry.sag === undefined || entry.sag === 0)
    return swept
      ? {
          take: 0,
          lines: [
            say(
              "no sag of the arm is stated: if only Y disagrees with the probe, suspect it (test on a mandrel)",
            ),
          ],
        }
      : { take: 0, lines: [] };
  if (!swept)
    return {
      take: 0,
      lines: [say("touched, not swept: the arm's sag {sag} does not count", { sag: stated(entry.sag) })],
    };
  return {
    take: entry.sag,
    lines: [
      say("Y = measured {raw} - sag {sag} = {y}", {
        raw: signedMm(y),
        sag: stated(entry.sag),
        y: signedMm(y - entry.sag),
      }),
    ],
  };
}

function harmonicsOf(found: FittedFeature): readonly Harmonic[] {
  const [cx, cy] = found.geometry.center;
  const { x, y } = found.points;
  const angles = x.map((value, i) => Math.atan2((y[i] ?? 0) - cy, value - cx));
  const radii = x.map((value, i) => Math.hypot(value - cx, (y[i] ?? 0) - cy));
  const split = fitHarmonics(angles, radii);
  return split.ok ? split.harmonics : [];
}

/** Largest less smallest distance from the sweep axis, the arm's sag taken off: the full indicator movement. */
function fullMovement(found: FittedFeature, sag: number): number {
  const { x, y } = found.points;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < x.length; i++) {
    const far = Math.hypot(x[i]!, y[i]!);
    const radius = far - (far > 0 ? (sag * y[i]!) / far : 0);
    low = Math.min(low, radius);
    high = Math.max(high, radius);
  }
  return high - low;
}

/** Jaws or screws that take the centre to the axis, those that give way first; without them the part along X and Y. */
function movesOf(entry: Centering, x: number, y: number): Move[] {
  const jaws = [...(entry.jaws ?? []), ...(entry.screws ?? [])];
  const at = entry.move ?? "part";
  if (jaws.length === 0)
    return (
      [
        ["x", -x],
        ["y", -y],
      ] as const
    ).map(([along, amount]) => ({ at, along, amount: zeroed(amount), unit: "mm" as const }));
  return jaws.map((one) => jawMove(one, x, y)).sort((a, b) => b.amount - a.amount);
}
function jawMove(one: Jaw, x: number, y: number): Move {
  const amount = zeroed(-(x * Math.cos(one.angle) + y * Math.sin(one.angle)));
  const words = amount > 0 ? "outward: back it off" : amount < 0 ? "inward: push" : "stays";
  return {
    at: one.name,
    along: "outward",
    amount,
    unit: "mm",
    words,
    ...(one.pitch === undefined ? {} : { turnDegrees: (amount / one.pitch) * 360 }),
  };
}
/** Cosines of right angles leave dust; minus zero reads badly. */
const zeroed = (value: number): number => (Math.abs(value) < 1e-12 ? 0 : value);

interface Shift {
  readonly x: number;
  readonly y: number;
  readonly moves: readonly Move[];
  readonly steps: number;
  readonly small: boolean;
}
/** What is shown as no movement has no way. mm. */
const NO_MOVE = 0.0005;

function headlineOf(entry: Centering, { x, y, moves, steps, small }: Shift): Said {
  const values = {
    at: say(entry.move ?? "part"),
    x: signedMm(-x),
    y: signedMm(-y),
    e: mm(Math.hypot(x, y)),
    steps,
  };
  if (small) return say("Off by {e}, within the uncertainty of the sweep: leave it.", values);
  const first = moves.find(({ along, amount }) => along === "outward" && amount !== 0);
  if (first !== undefined)
    return sayMove(
      first,
      steps === 1
        ? say("; {at} X {x}, Y {y}", values)
        : say("; {at} X {x}, Y {y} in {steps} steps, sweep after each", values),
    );
  if (steps > 1) return say("Move the {at} X {x}, Y {y}, in {steps} steps, sweep after each.", values);
  const ways = [
    ...(Math.abs(x) < NO_MOVE ? [] : [say(wayOf("x", -x))]),
    ...(Math.abs(y) < NO_MOVE ? [] : [say(wayOf("y", -y))]),
  ];
  const [across, upright] = ways;
  if (across === undefined) return say("Move the {at} X {x}, Y {y}.", values);
  if (upright === undefined) return say("Move the {at} X {x}, Y {y}: {way}.", { ...values, way: across });
  return say("Move the {at} X {x}, Y {y}: {across} and {upright}.", { ...values, across, upright });
}

function expectation(found: FittedFeature, fim: number, harmonics: readonly Harmonic[]): Said {
  const form = rangeOf(found.residuals);
  const lobed = harmonics.length >= 2 && form > 0.5 * fim;
  return lobed
    ? say("The next sweep still moves {form}: that is form, not setting; do not chase it.", {
        form: mm(form),
      })
    : say("The next sweep moves about {form} instead of {fim}.", { form: mm(form), fim: mm(fim) });
}
const rangeOf = (values: Float64Array): number => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return values.length === 0 ? 0 : high - low;
};

function workingOf(
  values: { readonly x: number; readonly y: number; readonly eccentricity: number; readonly fim: number },
  harmonics: readonly Harmonic[],
  doubt: number | null,
): Said[] {
  const toward = bearing(values.x, values.y);
  const lines = [
    say("centre from the sweep axis: X {x}, Y {y}", { x: signedMm(values.x), y: signedMm(values.y) }),
    say(doubt === null ? "eccentricity = {e}{toward}" : "eccentricity = {e} ± {doubt}{toward}", {
      e: mm(values.eccentricity),
      doubt: unsure(doubt ?? 0),
      toward: toward === null ? "" : say(" towards {angle}", { angle: deg(toward) }),
    }),
    say("full indicator movement {fim}; twice the eccentricity explains {e}", {
      fim: mm(values.fim),
      e: mm(2 * values.eccentricity),
    }),
  ];
  for (const harmonic of harmonics.slice(1))
    lines.push(
      say("{n} lobes: {amount} peak to valley, high at {at}", {
        n: harmonic.n,
        amount: mm(harmonic.peakToValley),
        at: deg(degrees(harmonic.phase)),
      }),
    );
  return lines;
}

/** Chance of calling noise a wave. */
const RISK = 0.00135;
/** Parameters of the round and of one wave on it. */
const WITH_WAVE = 5;

/** Smaller waves are rounding. mm. */
const NO_WAVE = 1e-6;

interface Wave {
  readonly harmonic: Harmonic;
  /** The feature with the scatter that this wave leaves: readings round the whole circle place the centre apart from it. */
  readonly besides: FittedFeature;
}
/** The strongest of the higher harmonics, when it stands out of what it leaves, or of what is stated for a reading. */
function waveOf(found: FittedFeature, harmonics: readonly Harmonic[]): Wave | null {
  const { count, scale, residuals } = found;
  const dof = count - WITH_WAVE;
  const [harmonic] = harmonics.slice(1).toSorted((a, b) => b.amplitude - a.amplitude);
  if (harmonic === undefined || dof < 1) return null;
  const squares = residuals.reduce((sum, residual) => sum + residual * residual, 0);
  const left = Math.sqrt(Math.max(0, squares - (count * harmonic.amplitude ** 2) / 2) / dof);
  const readings = readingScale(scale.statedMm, left, dof);
  const noise = (readings.sigmaMm ?? 0) * Math.sqrt(2 / count);
  if (harmonic.amplitude < NO_WAVE) return null;
  if (harmonic.amplitude <= studentQuantile(RISK, readings.degreesOfFreedom) * noise) return null;
  return { harmonic, besides: { ...found, scale: readings } };
}

function cautionsOf({ count }: FittedFeature, strongest: Harmonic | null): Said[] {
  const lines: Said[] = [];
  if (count < 8)
    lines.push(
      say(
        "{count} readings: three lobes read as eccentricity and an oval at 45° reads as nothing. Take 8, better 12.",
        { count },
      ),
    );
  if (strongest === null) return lines;
  if (strongest.n === 3)
    lines.push(
      say("Looks like a three-jaw squeeze: slacken and sweep again; a micrometer cannot see three lobes."),
    );
  if (strongest.n === 4)
    lines.push(say("Looks like marks of four jaws, or steps where the axes turn round."));
  if (strongest.n === 2)
    lines.push(
      say(
        "Looks oval: the part lifts in its holding, or it is oval by nature; hold-down first, then the machine.",
      ),
    );
  return lines;
}

function polarPlot({ points, residuals, geometry }: FittedFeature, x: number, y: number) {
  const kept = thinned(residuals);
  return {
    kind: "centering",
    data: {
      x: at(kept, points.x),
      y: at(kept, points.y),
      deviation: at(kept, residuals),
      center: [x, y],
      radius: geometry.radius,
    },
  };
}
