import * as v from "valibot";
import { LANGUAGES } from "../language.ts";
import { once, onceFor } from "../once.ts";
import type { CharacteristicPlanKind, Field, PlanKind, PlanKinds } from "./fields.ts";
import {
  about,
  angle,
  axis,
  choice,
  count,
  direction,
  feature,
  length,
  lengthFromZero,
  list,
  mapOf,
  name,
  object,
  oneOf,
  optional,
  plainNumber,
  positiveLength,
  quantity,
  refined,
  shownUnits,
  text,
  wholeFrom,
} from "./fields.ts";

/** The parts of a plan as they stand in the file. One definition for the reader and for the editors' schema. */
export const FITS = ["plane", "line", "circle", "cylinder", "sphere", "point", "axis"] as const;
export const COLUMNS = [
  ..."feature x y z point i j k b time temperature note".split(" "),
  ..."sweep reading position angle check value unit by".split(" "),
] as const;

const isDate = (text: string): boolean => {
  const day = /^\d{4}-\d\d-\d\d$/.test(text) ? new Date(text) : null;
  return day !== null && !Number.isNaN(day.valueOf()) && day.toISOString().startsWith(text);
};
const words = once(() => about({ expects: "a text", text: true }, text()));
const oneOrMore = <T extends v.GenericSchema>(type: T) => oneOf([type, list(type)]);

export const decision = once(() =>
  about(
    {
      expects: "{rule: guarded} or {rule: simple}",
      description:
        "guarded: a guard band of `guard` (default 1) times the expanded uncertainty. simple: none.",
    },
    object({
      rule: choice(["guarded", "simple"]),
      guard: optional(
        about({ expects: "a plain number of zero or more" }, v.pipe(plainNumber(), v.minValue(0))),
      ),
    }),
  ),
);

export const lengthRange = once(() =>
  about({ expects: "two lengths, such as [0 mm, 800 mm]" }, v.strictTuple([length(), length()])),
);
export const machine = once(() =>
  object({
    name: optional(name()),
    "b-sense": optional(
      about(
        { description: "1: rising B swings +Z towards +X. -1: the other way." },
        oneOf([v.literal(1), v.literal(-1)]),
      ),
    ),
    travel: optional(
      object({ x: optional(lengthRange()), y: optional(lengthRange()), z: optional(lengthRange()) }),
    ),
    straightness: optional(lengthFromZero()),
  }),
);

export const instrument = once(() =>
  object({
    uncertainty: optional(lengthFromZero()),
    resolution: optional(lengthFromZero()),
    repeat: optional(lengthFromZero()),
    "max-error": optional(lengthFromZero()),
    "calibration-due": optional(
      about(
        { expects: "a date, such as 2027-03-01", format: "date" },
        refined(v.string(), isDate, "expected a date of the calendar as YEAR-MONTH-DAY, such as 2027-03-01"),
      ),
    ),
    where: optional(choice(["on-machine", "independent"])),
  }),
);

const reading = once(() =>
  object({
    sweep: feature(),
    position: optional(length()),
    angle: optional(angle()),
    x: optional(length()),
    y: optional(length()),
  }),
);
const tip = once(() => ({
  points: optional(choice(["surface", "ball-center"])),
  "tip-diameter": optional(positiveLength()),
}));
export const logs = once(() =>
  object({
    unit: optional(choice(["mm", "in", "um"])),
    instrument: optional(name()),
    columns: optional(
      mapOf(about({ expects: "the log's column name or its number from 1" }, oneOf([count(), text()]))),
    ),
    "skip-rows": optional(about({ expects: "a whole number of zero or more" }, wholeFrom(0))),
    constant: optional(mapOf(about({ expects: "a quantity with its unit, or a text" }, text()))),
    keep: optional(
      mapOf(
        about(
          { expects: "what the rows to be read say in this column, or a list of that" },
          oneOf([v.string(), plainNumber(), list(oneOf([v.string(), plainNumber()]))]),
        ),
      ),
    ),
    order: optional(list(reading())),
    frame: optional(choice(["machine", "work"])),
    sign: optional(choice(["toward-plus", "toward-minus"])),
    decimal: optional(choice([".", ",", "point", "comma"])),
    separator: optional(choice([",", ";", "\t", "comma", "semicolon", "tab"])),
    ...tip(),
    "lever-angle": optional(angle()),
  }),
);

export const featureEntry = once(() =>
  object({
    fit: choice(FITS),
    normal: optional(direction()),
    surface: optional(choice(["bore", "boss"])),
    from: optional(choice(["traverse", "rim-sweep", "face-sweep", "map"])),
    radius: optional(positiveLength()),
    along: optional(axis()),
    height: optional(axis()),
    through: optional(list(feature())),
    instrument: optional(name()),
    ...tip(),
  }),
);

const bound = once(() => about({ expects: 'a plain number; its unit stands under "unit"' }, plainNumber()));
export const signOff = once(() =>
  object({
    id: name(),
    ask: optional(words()),
    unit: optional(name()),
    min: optional(bound()),
    max: optional(bound()),
  }),
);
export const exclusion = once(() =>
  object({
    log: optional(name()),
    feature: optional(feature()),
    line: count(),
    reason: words(),
  }),
);
export const part = once(() =>
  object({
    temperature: optional(quantity("temperature")),
    expansion: optional(quantity("expansion")),
  }),
);
export const points = once(() => mapOf(count()));

/** Everything that is not an entry of a shelf. */
const simple = {
  plinth: () =>
    about({ expects: "1, the version of this format", description: "Version of this format." }, v.literal(1)),
  name: () => optional(name()),
  title: () => optional(words()),
  show: () => optional(shownUnits()),
  language: () => optional(choice(LANGUAGES)),
  match: () => optional(oneOrMore(name())),
  decision,
  machine: () => optional(machine()),
  logs: () => optional(logs()),
  part: () => optional(part()),
  points: () => optional(points()),
  closure: () => optional(oneOrMore(feature())),
  "closure-limit": () => optional(positiveLength()),
  "cross-sum-limit": () => optional(positiveLength()),
};
type Simple = { readonly [K in keyof typeof simple]: ReturnType<(typeof simple)[K]> };
export type SimpleParts = v.InferOutput<v.StrictObjectSchema<Simple, undefined>>;
const SIMPLE_KEYS = Object.keys(simple) as (keyof Simple)[];
const REQUIRED = ["plinth", "decision"] as const;
const simpleShape = (keys: readonly (keyof Simple)[]) =>
  Object.fromEntries(keys.map((key) => [key, simple[key]()])) as Simple;
/** Those parts of which a plan has some; what it has not is not made. */
export const simpleParts = (has: (key: string) => boolean) =>
  object(simpleShape(SIMPLE_KEYS.filter((key) => has(key) || REQUIRED.some((one) => one === key))));

/** Keys of a characteristic's limit; which of them a kind takes is its `limit`. */
export const LIMIT_KEYS = ["max", "nominal", "plus", "minus"] as const;
function limitShape(kind: CharacteristicPlanKind) {
  const one = () => optional(quantity(kind.limitDimension));
  return {
    ...(kind.limit === "signed" ? {} : { max: one() }),
    ...(kind.limit === "max" ? {} : { nominal: one(), plus: one(), minus: one() }),
  };
}
/** One characteristic of this kind with all the keys it may have. */
export const characteristicEntry = onceFor(
  (kind: CharacteristicPlanKind): Field =>
    object<v.ObjectEntries>({
      id: name(),
      kind: v.literal(kind.kind),
      of: feature(),
      ...(kind.to.length === 0 ? {} : { to: kind.toRequired ? feature() : optional(feature()) }),
      ...limitShape(kind),
      ...kind.inputs(),
    }),
);
export const adviceEntry = onceFor(
  (kind: PlanKind): Field => object<v.ObjectEntries>({ kind: v.literal(kind.kind), ...kind.inputs() }),
);

/** What is read entry by entry. */
const sections = {
  instruments: () => optional(mapOf(instrument())),
  features: () => optional(mapOf(featureEntry())),
  characteristics: (kinds: PlanKinds) =>
    optional(v.array(byKind(kinds.characteristics.map(characteristicEntry)))),
  advice: (kinds: PlanKinds) => optional(v.array(byKind(kinds.advice.map(adviceEntry)))),
  "sign-offs": () => optional(v.array(signOff())),
  exclude: () => optional(v.array(exclusion())),
};
/** Every key of a plan. */
export const PLAN_KEYS: readonly string[] = [...SIMPLE_KEYS, ...Object.keys(sections)];

/** The whole plan as one type, for editors. */
export const wholePlan = (kinds: PlanKinds) =>
  object({
    ...simpleShape(SIMPLE_KEYS),
    ...Object.fromEntries(Object.entries(sections).map(([key, make]) => [key, make(kinds)])),
  });
const byKind = (entries: readonly v.GenericSchema[]): v.GenericSchema =>
  entries.length === 0 ? v.never() : oneOf(entries);
