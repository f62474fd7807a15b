import * as z from "zod";
import { once, onceFor } from "../once.ts";
import { type Dimension, readQuantity, unitsOf } from "../quantity.ts";

// A plan is read once in a run: what the library would compile to read many costs more than it saves.
z.config({ jitless: true });

/**
 * The words of which plan entries are made. Shelf members describe their own keys with these, so that the plan
 * reader, its messages and the JSON Schema all come from one definition. Keys are given as they stand in the file
 * (lower-case with hyphens); lengths come out in mm, angles in radians.
 */
const EXAMPLES: Readonly<Record<Dimension, string>> = {
  length: "0.01 mm",
  angle: "0.01 deg",
  temperature: "20 C",
  "temperature-difference": "1 K",
  expansion: "11.5 um/m/K",
  torque: "95 N·m",
  pressure: "3 MPa",
  force: "500 N",
  mass: "12 kg",
  density: "4430 kg/m3",
};

/**
 * What the reader of a plan knows about a field beside its type: `expects` says in words what belongs there,
 * `example` is a right value, `reference` marks the name of a feature, `text` a name that may look like a number.
 */
export type FieldMeta = {
  readonly expects?: string;
  readonly example?: string;
  readonly reference?: "feature";
  readonly text?: true;
};
const about = (meta: FieldMeta): FieldMeta => meta;
const articled = (dimension: Dimension): string =>
  `${/^[aeiou]/.test(dimension) ? "an" : "a"} ${dimension.replace("-", " ")}`;

/** A quantity as text with its unit, such as `0.0005 in`; comes out in the unit used inside. */
export const quantity = onceFor((dimension: Dimension) => {
  const example = EXAMPLES[dimension];
  const expects = `${articled(dimension)} with its unit, such as ${example}`;
  return z
    .string({ error: (issue) => `expected ${expects}, not ${JSON.stringify(issue.input)}` })
    .meta({
      ...about({ expects, example }),
      description: `${expects[0]?.toUpperCase()}${expects.slice(1)}. Units: ${unitsOf(dimension).join(", ")}.`,
      pattern: "^\\s*[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?\\s*[^\\s0-9.,].*$",
    })
    .transform((text, context) => {
      const read = readQuantity(text, dimension);
      if (read.ok) return read.value;
      context.addIssue({ code: "custom", message: `expected ${expects}: ${read.reason}` });
      return z.NEVER;
    });
});
export const length = () => quantity("length");
export const angle = () => quantity("angle");
/** A length above zero. */
export const positiveLength = once(() =>
  quantity("length").refine((value) => value > 0, { error: "expected a length above zero" }),
);
/** A length of zero or more. */
export const lengthFromZero = once(() =>
  quantity("length").refine((value) => value >= 0, { error: "expected a length that is not negative" }),
);

export const axis = once(() => z.enum(["x", "y", "z"]));
/** A name, a heading or other free text. A number is taken as it is written. */
export const name = once(() =>
  z
    .string()
    .min(1)
    .meta(about({ expects: "a name", text: true })),
);
/** A plain number where no unit applies, such as a count of passes or a B index in degrees. */
export const plainNumber = once(() => z.number());
export const count = once(() =>
  z
    .int()
    .positive()
    .meta(about({ expects: "a whole number above zero" })),
);
export const yesNo = once(() => z.boolean());
export const choice = <const T extends readonly [string, ...string[]]>(words: T) => z.enum(words);
/** The unit of lengths on a page, or two of them: the second follows in brackets. */
export const shownUnits = once(() =>
  z
    .union([
      choice(["mm", "in"]),
      z
        .array(choice(["mm", "in"]))
        .length(2)
        .meta(about({ expects: "two units, such as [mm, in]" })),
    ])
    .meta(about({ expects: "mm, in, or both such as [mm, in]: the second stands in brackets" }))
    .refine((written) => typeof written === "string" || written[0] !== written[1], {
      error: "expected two different units, such as [mm, in]",
    })
    .transform((written) => {
      const [show = "mm", also = null] = typeof written === "string" ? [written] : written;
      return { show, also };
    }),
);
/** Three plain numbers that give a direction. */
export const direction = once(() =>
  z
    .tuple([z.number(), z.number(), z.number()])
    .meta(about({ expects: "three numbers, such as [0, 0, 1]" }))
    .refine((v) => Math.hypot(...v) > 0, { error: "expected a direction, not three zeros" }),
);
/** `{x: 10 mm, y: 0 mm}`; an axis left out does not count and comes out null. */
export const place = once(() =>
  z
    .strictObject({ x: length().optional(), y: length().optional(), z: length().optional() })
    .meta(about({ expects: "a place, such as {x: 10 mm, y: 0 mm}" }))
    .transform((p) => ({ x: p.x ?? null, y: p.y ?? null, z: p.z ?? null })),
);
/** `[0 mm, 0 mm]`: a centre in the plane of X and Y. */
export const centerXY = once(() =>
  z.tuple([length(), length()]).meta(about({ expects: "a centre, such as [0 mm, 0 mm]" })),
);
/** The name of a feature of this plan; the reader checks that it is there. */
export const feature = once(() =>
  z
    .string()
    .min(1)
    .meta(about({ expects: "the name of a feature", reference: "feature", text: true })),
);
export const features = once(() =>
  z
    .array(feature())
    .min(1)
    .meta(about({ expects: "a list of features" })),
);
/** Keys are B indices in degrees, values features: `{0: face-0, 90: face-90}`. */
export const featuresByIndex = once(() =>
  z
    .record(
      z.string().regex(/^-?\d+(\.\d+)?$/, "expected a B index in degrees as the key, such as 90"),
      feature(),
    )
    .meta(about({ expects: "features by B index, such as {0: face-0, 90: face-90}" })),
);

/** Keys with their types, made when a plan has such an entry. */
export type PlanShape = () => z.ZodRawShape;
export type Inputs<S extends PlanShape> = z.output<z.ZodObject<ReturnType<S>>>;
const optionalOf = onceFor((type: z.ZodType) => type.optional());
export const optional = <T extends z.ZodType>(type: T) => optionalOf(type) as z.ZodOptional<T>;
export const list = <T extends z.ZodType>(type: T) => z.array(type).min(1);
export const object = <S extends z.ZodRawShape>(shape: S) => z.strictObject(shape);
export const oneOf = <const T extends readonly [z.ZodType, z.ZodType, ...z.ZodType[]]>(types: T) =>
  z.union(types);

/** What the plan reader must know about a shelf's members: their kind and their own keys. */
export interface PlanKind {
  readonly kind: string;
  readonly inputs: PlanShape;
}
export interface CharacteristicPlanKind extends PlanKind {
  /** `max`: unsigned, one upper limit. `signed`: nominal, plus, minus. `either`: both are accepted. */
  readonly limit: "max" | "signed" | "either";
  /** Of an `either` kind: the key that makes its value signed. `max` then bounds both sides. */
  readonly signedBy?: string;
  /** Whether limits are lengths or angles. */
  readonly limitDimension: "length" | "angle";
  /** Fits that `of` may have. */
  readonly of: readonly string[];
  /** Fits that `to` may have; empty when the kind takes none. */
  readonly to: readonly string[];
  readonly toRequired: boolean;
}
export interface PlanKinds {
  readonly characteristics: readonly CharacteristicPlanKind[];
  readonly advice: readonly PlanKind[];
}
