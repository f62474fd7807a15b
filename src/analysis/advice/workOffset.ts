import { once } from "../../model/once.ts";
import {
  feature,
  type Inputs,
  name,
  oneOf,
  optional,
  place,
  plainNumber,
  positiveLength,
} from "../../model/plan/fields.ts";
import { type Said, type SaidValue, say } from "../../model/say.ts";
import type { Move } from "../../model/setupReport.ts";
import type { AnalysisContext } from "../context.ts";
import type { FittedFeature } from "../fittedFeature.ts";
import type { Advice, AdviceKind } from "./contract.ts";
import { type Answer, advised, undecided, withoutFeature } from "./shared/answer.ts";
import { offsetsMove } from "./shared/cautions.ts";
import { assumedFrame, type Frame, statedFrame } from "./shared/frame.ts";
import { placeUnknown, placeUnknownText } from "./shared/tip.ts";
import { carry, cosSin } from "./shared/turn.ts";
import { listed, signedMm, stated } from "./shared/words.ts";

const inputs = once(() => ({
  of: optional(feature()),
  register: optional(oneOf([name(), plainNumber()])),
  old: optional(place()),
  nominal: optional(place()),
  from: optional(place()),
  b: optional(plainNumber()),
  center: optional(place()),
  /** A change larger than this asks for a second look. */
  "largest-change": optional(positiveLength()),
}));
type WorkOffset = Readonly<Inputs<typeof inputs>>;
const AXES = ["x", "y", "z"] as const;
type Axis = (typeof AXES)[number];
type Offset = Readonly<Record<Axis, number | null>>;
const NONE: Offset = { x: null, y: null, z: null };
const EMPTY = { new: NONE, change: NONE };
const LARGEST_CHANGE_MM = 0.5;

/**
 * The new value of a work offset with its change and proof reading. From a feature in the active offset: new = old +
 * (measured - nominal); in machine coordinates: new = measured - nominal. Or one offset carried to another B about the
 * centre of the axis. Plain numbers in mm with their sign, axes left out of the plan are null. Source: own derivation.
 */
export const workOffset: AdviceKind<typeof inputs> = {
  kind: "work-offset",
  turn: 10,
  mends: ["offset", "position"],
  inputs,
  advise(entry, context) {
    if (entry.from !== undefined && entry.b !== undefined) return carried(entry, context);
    if (entry.of === undefined)
      return undecided({
        of: null,
        values: EMPTY,
        headline: say("Name a feature (of), or an offset to carry (from, b, center)."),
      });
    const found = context.feature(entry.of);
    if (!found.ok) return withoutFeature(found, entry.of, EMPTY);
    return measured(entry, found, context);
  },
  findings(entry, context) {
    if (entry.of === undefined || entry.from !== undefined) return [];
    const found = context.feature(entry.of);
    return found.ok ? assumedFrame("work-offset", [found], "work") : [];
  },
};

function measured(entry: WorkOffset, found: FittedFeature, context: AnalysisContext): Advice {
  const of = found.name;
  const refuse = (headline: Said): Advice => undecided({ of, headline, values: EMPTY });
  if (placeUnknown(found) && (found.fit === "plane" || found.fit === "point" || found.fit === "line"))
    return refuse(placeUnknownText(found));
  const frame: Frame = statedFrame([found]) ?? "work";
  const nominal = entry.nominal ?? { x: null, y: null, z: null };
  const told = axesTold(found);
  const wanted = AXES.filter((axis) => nominal[axis] !== null);
  const silent = wanted.filter((axis) => !told.includes(axis));
  const lacking =
    frame === "work"
      ? wanted.filter((axis) => told.includes(axis) && (entry.old?.[axis] ?? null) === null)
      : [];
  const usable = wanted.filter((axis) => told.includes(axis) && !lacking.includes(axis));
  if (wanted.length === 0)
    return refuse(say("State the nominal place of {of}, such as nominal: [x: 0 mm].", { of }));
  if (usable.length === 0)
    return refuse(
      lacking.length > 0
        ? say("State the old offset along {axes}: the reading was taken in it.", { axes: names(lacking) })
        : say("{of} tells no place along {axes}.", { of, axes: names(silent) }),
    );
  const at = (axis: Axis): number => found.geometry.center[AXES.indexOf(axis)] ?? 0;
  const next = offsetOf(
    usable,
    (axis) => (frame === "work" ? (entry.old?.[axis] ?? 0) : 0) + (at(axis) - (nominal[axis] ?? 0)),
  );
  const change = changeOf(entry.old ?? NONE, next);
  return written(entry, context, {
    of,
    next,
    change,
    working: usable.map((axis) =>
      formula(axis, {
        frame,
        old: entry.old?.[axis] ?? null,
        measured: at(axis),
        nominal: nominal[axis] ?? 0,
        next: next[axis] ?? 0,
      }),
    ),
    expect: proof(of, usable, nominal),
    cautions:
      silent.length > 0
        ? [say("{of} tells no place along {axes}: left out.", { of, axes: names(silent) })]
        : [],
  });
}
const names = (axes: readonly Axis[]): string => axes.map((axis) => axis.toUpperCase()).join(", ");
const offsetOf = (axes: readonly Axis[], value: (axis: Axis) => number): Offset => ({
  x: axes.includes("x") ? value("x") : null,
  y: axes.includes("y") ? value("y") : null,
  z: axes.includes("z") ? value("z") : null,
});
function changeOf(old: Offset, next: Offset): Offset {
  const less = (axis: Axis): number | null => {
    const [before, after] = [old[axis], next[axis]];
    return before === null || after === null ? null : after - before;
  };
  return { x: less("x"), y: less("y"), z: less("z") };
}

/** Axes along which a feature has a place: a plane only along its normal, a round across its axis, a ball and a point along all. */
function axesTold(found: FittedFeature): Axis[] {
  const direction = found.geometry.direction;
  if (direction === null) return [...AXES];
  const sizes = direction.map(Math.abs);
  const main = AXES[sizes.indexOf(Math.max(...sizes))];
  if (found.fit === "plane") return AXES.filter((axis) => axis === main);
  if (found.fit === "circle" || found.fit === "cylinder" || found.fit === "axis")
    return AXES.filter((axis) => axis !== main);
  // A line of readings has a place along its readings only.
  return AXES.filter((axis) => axis === (found.plan?.height ?? "z"));
}

function formula(
  axis: Axis,
  about: { frame: Frame; old: number | null; measured: number; nominal: number; next: number },
): Said {
  const values: Record<string, SaidValue> = {
    axis: axis.toUpperCase(),
    old: signedMm(about.old ?? 0),
    measured: signedMm(about.measured),
    nominal: stated(about.nominal, { signed: true }),
    next: signedMm(about.next),
  };
  return about.frame === "work"
    ? say("{axis}: new = old {old} + (measured {measured} - nominal {nominal}) = {next}", values)
    : say("{axis}: new = measured {measured} - nominal {nominal} = {next} (machine coordinates)", values);
}
function proof(of: string, axes: readonly Axis[], nominal: Offset): Said {
  return say("Probe {of} again in the new offset: it must read {place}", {
    of,
    place: listed(axes.map((axis) => onAxis(axis, stated(nominal[axis] ?? 0, { signed: true })))),
  });
}
const onAxis = (axis: Axis, value: SaidValue): Said =>
  say("{axis} {value}", { axis: axis.toUpperCase(), value });

function carried(entry: WorkOffset, context: AnalysisContext): Advice {
  const [from, b, center] = [entry.from ?? NONE, entry.b ?? 0, entry.center ?? NONE];
  const refuse = (headline: Said): Advice => undecided({ of: null, headline, values: EMPTY });
  if (from.x === null || from.z === null || center.x === null || center.z === null)
    return refuse(say("To carry an offset state x and z of from and of center."));
  const sense = context.plan.machine.bSense;
  if (sense === null && Math.abs(cosSin(b).sin) > 1e-12)
    return refuse(
      say(
        "Which way B turns is not known: state b-sense for this machine, or prove it from a ball at several B.",
      ),
    );
  const place = carry({ x: from.x, z: from.z }, { x: center.x, z: center.z }, b, sense ?? 1);
  const next: Offset = { x: place.x, y: from.y, z: place.z };
  const values = {
    b,
    cx: signedMm(center.x),
    cz: signedMm(center.z),
    x: signedMm(from.x),
    z: signedMm(from.z),
    sense: sense === -1 ? "-1" : "+1",
  };
  return written(entry, context, {
    of: entry.of ?? null,
    next,
    change: changeOf(entry.old ?? NONE, next),
    working: [
      say("t = sense of B ({sense}) x {b}°", values),
      say("X = {cx} + ({x} - ({cx})) cos t + ({z} - ({cz})) sin t = {nx}", {
        ...values,
        nx: signedMm(place.x),
      }),
      say("Z = {cz} - ({x} - ({cx})) sin t + ({z} - ({cz})) cos t = {nz}", {
        ...values,
        nz: signedMm(place.z),
      }),
    ],
    expect: say("At B{b} a known place probed in the new offset reads its nominal.", { b }),
    cautions: [],
  });
}

interface Written {
  readonly of: string | null;
  readonly next: Offset;
  readonly change: Offset;
  readonly working: readonly Said[];
  readonly expect: Said;
  readonly cautions: readonly Said[];
}
function written(entry: WorkOffset, context: AnalysisContext, about: Written): Advice {
  const { next, change } = about;
  const register = entry.register === undefined ? "offset" : String(entry.register);
  const most = entry["largest-change"] ?? LARGEST_CHANGE_MM;
  const large = AXES.filter((axis) => Math.abs(change[axis] ?? 0) > most);
  const moves: Move[] = AXES.flatMap((axis) => {
    const amount = change[axis];
    return amount === null
      ? []
      : [{ at: register, along: axis, amount: amount === 0 ? 0 : amount, unit: "mm" as const }];
  });
  const answer: Answer = {
    of: about.of,
    values: { new: next, change },
    headline: headlineOf(register, next, change, large.length > 0),
    moves,
    expect: about.expect,
    plot: { kind: "work-offset", data: {} },
    next: say("Read the stored numbers back aloud with their signs; prove the place, then store."),
    working: [...identity(register, entry, context), ...about.working],
    cautions: [
      ...(large.length > 0
        ? [
            say("A change above {most} along {axes}: check unit, sign, register and pallet a second time.", {
              most: stated(most),
              axes: names(large),
            }),
          ]
        : []),
      ...about.cautions,
      offsetsMove(),
    ],
  };
  return advised(answer);
}

function headlineOf(register: string, next: Offset, change: Offset, large: boolean): Said {
  const parts = AXES.flatMap((axis) => {
    const [value, by] = [next[axis], change[axis]];
    if (value === null) return [];
    const place = onAxis(axis, signedMm(value));
    return [by === null ? place : say("{place} (change {by})", { place, by: signedMm(by) })];
  });
  return say(large ? "{register}: {parts}: look twice" : "{register}: {parts}", {
    register,
    parts: listed(parts),
  });
}

/** What the numbers belong to: register, pallet, old values. */
function identity(register: string, entry: WorkOffset, context: AnalysisContext): Said[] {
  const pallet = context.set.setup.pallet ?? say("not stated");
  const old = entry.old;
  const values = { register, pallet };
  if (old === undefined) return [say("register {register}, pallet {pallet}, old values not stated", values)];
  const places = AXES.flatMap((axis) => {
    const value = old[axis];
    return value === null ? [] : [onAxis(axis, signedMm(value))];
  });
  return [say("register {register}, pallet {pallet}, old {places}", { ...values, places: listed(places) })];
}
