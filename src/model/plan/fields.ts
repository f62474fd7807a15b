import * as v from "valibot";
import { once, onceFor } from "../once.ts";
import { type Dimension, readQuantity, unitsOf } from "../quantity.ts";

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
/** What an editor is told beside it. */
type SchemaMeta = { readonly description?: string; readonly pattern?: string; readonly format?: string };
/** What checks a written value; `Output` is what comes out of it. */
export type Field<Output = unknown> = v.GenericSchema<unknown, Output>;
/** The type with what is known about it. */
export const about = <T extends v.GenericSchema>(meta: FieldMeta & SchemaMeta, type: T): T =>
  v.pipe(type, v.metadata({ ...meta })) as unknown as T;
/** The type for those of its values that hold. */
export const refined = <T extends v.GenericSchema>(
  type: T,
  holds: (value: v.InferOutput<T>) => boolean,
  error: string,
): T => v.pipe(type, v.check(holds, error)) as unknown as T;
/** What `read` makes of a value of the type, or the sentence on why it makes nothing of it. */
export const readAs = <T extends v.GenericSchema, V>(
  type: T,
  read: (value: v.InferOutput<T>) => { readonly ok: true; readonly value: V } | Misread,
): Field<V> =>
  v.pipe(
    type,
    v.rawTransform(({ dataset, addIssue, NEVER }): V => {
      const result = read(dataset.value);
      if (result.ok) return result.value;
      addIssue({ message: result.message });
      return NEVER;
    }),
  ) as unknown as Field<V>;
type Misread = { readonly ok: false; readonly message: string };
const articled = (dimension: Dimension): string =>
  `${/^[aeiou]/.test(dimension) ? "an" : "a"} ${dimension.replace("-", " ")}`;

/** A quantity as text with its unit, such as `0.0005 in`; comes out in the unit used inside. */
export const quantity = onceFor((dimension: Dimension) => {
  const example = EXAMPLES[dimension];
  const expects = `${articled(dimension)} with its unit, such as ${example}`;
  const text = about(
    {
      expects,
      example,
      description: `${expects[0]?.toUpperCase()}${expects.slice(1)}. Units: ${unitsOf(dimension).join(", ")}.`,
      pattern: "^\\s*[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?\\s*[^\\s0-9.,].*$",
    },
    v.string(),
  );
  return readAs(text, (written) => {
    const read = readQuantity(written, dimension);
    return read.ok ? read : { ok: false, message: `expected ${expects}: ${read.reason}` };
  });
});
export const length = () => quantity("length");
export const angle = () => quantity("angle");
/** A length above zero. */
export const positiveLength = once(() =>
  refined(quantity("length"), (value) => value > 0, "expected a length above zero"),
);
/** A length of zero or more. */
export const lengthFromZero = once(() =>
  refined(quantity("length"), (value) => value >= 0, "expected a length that is not negative"),
);

export const axis = once(() => choice(["x", "y", "z"]));
/** A name, a heading or other free text. A number is taken as it is written. */
export const name = once(() => about({ expects: "a name", text: true }, text()));
/** A plain number where no unit applies, such as a count of passes or a B index in degrees. */
export const plainNumber = once(() => v.pipe(v.number(), v.finite()));
export const count = once(() => about({ expects: "a whole number above zero" }, wholeFrom(1)));
export const wholeFrom = (least: number) => v.pipe(v.number(), v.safeInteger(), v.minValue(least));
export const yesNo = once(() => v.boolean());
export const choice = <const T extends readonly [string, ...string[]]>(words: T) => v.picklist(words);
/** The unit of lengths on a page, or two of them: the second follows in brackets. */
export const shownUnits = once(() =>
  readAs(
    refined(
      about(
        { expects: "mm, in, or both such as [mm, in]: the second stands in brackets" },
        oneOf([
          choice(["mm", "in"]),
          about(
            { expects: "two units, such as [mm, in]" },
            v.pipe(v.array(choice(["mm", "in"])), v.length(2)),
          ),
        ]),
      ),
      (written) => typeof written === "string" || written[0] !== written[1],
      "expected two different units, such as [mm, in]",
    ),
    (written) => {
      const [show = "mm", also = null] = typeof written === "string" ? [written] : written;
      return { ok: true, value: { show, also } };
    },
  ),
);
/** Three plain numbers that give a direction. */
export const direction = once(() =>
  refined(
    about(
      { expects: "three numbers, such as [0, 0, 1]" },
      v.strictTuple([plainNumber(), plainNumber(), plainNumber()]),
    ),
    (v) => Math.hypot(...v) > 0,
    "expected a direction, not three zeros",
  ),
);
/** `{x: 10 mm, y: 0 mm}`; an axis left out does not count and comes out null. */
export const place = once(() =>
  readAs(
    about(
      { expects: "a place, such as {x: 10 mm, y: 0 mm}" },
      object({ x: optional(length()), y: optional(length()), z: optional(length()) }),
    ),
    (p) => ({ ok: true, value: { x: p.x ?? null, y: p.y ?? null, z: p.z ?? null } }),
  ),
);
/** `[0 mm, 0 mm]`: a centre in the plane of X and Y. */
export const centerXY = once(() =>
  about({ expects: "a centre, such as [0 mm, 0 mm]" }, v.strictTuple([length(), length()])),
);
/** The name of a feature of this plan; the reader checks that it is there. */
export const feature = once(() =>
  about({ expects: "the name of a feature", reference: "feature", text: true }, text()),
);
export const features = once(() => about({ expects: "a list of features" }, list(feature())));
/** Keys are B indices in degrees, values features: `{0: face-0, 90: face-90}`. */
export const featuresByIndex = once(() =>
  about(
    { expects: "features by B index, such as {0: face-0, 90: face-90}" },
    mapOf(
      feature(),
      v.pipe(v.string(), v.regex(/^-?\d+(\.\d+)?$/, "expected a B index in degrees as the key, such as 90")),
    ),
  ),
);

/** Keys with their types, made when a plan has such an entry. */
export type PlanShape = () => v.ObjectEntries;
export type Inputs<S extends PlanShape> = v.InferOutput<v.StrictObjectSchema<ReturnType<S>, undefined>>;
export const text = () => v.pipe(v.string(), v.nonEmpty());
const optionalOf = onceFor((type: v.GenericSchema) => v.optional(type));
export const optional = <T extends v.GenericSchema>(type: T) =>
  optionalOf(type) as unknown as v.OptionalSchema<T, undefined>;
export const list = <T extends v.GenericSchema>(type: T) => v.pipe(v.array(type), v.nonEmpty());
export const object = <S extends v.ObjectEntries>(shape: S) => mapping(v.strictObject(shape));
export const mapOf = <T extends v.GenericSchema>(
  type: T,
  key: v.GenericSchema<string, string> = v.string(),
) => mapping(v.record(key, type));
export const oneOf = <const T extends readonly v.GenericSchema[]>(types: T) => v.union(types);
/** Of the keys of a `mapOf` the library passes over these, because objects have them from elsewhere. */
const PASSED_OVER = ["constructor", "prototype", "__proto__"];
/** The library takes a list for a mapping with the keys 0, 1 and so on; a plan does not. */
function mapping<T extends v.GenericSchema>(type: T): T {
  const run = type["~run"].bind(type);
  const refuses = (value: unknown): boolean =>
    Array.isArray(value) ||
    (type.type === "record" &&
      typeof value === "object" &&
      PASSED_OVER.some((key) => Object.hasOwn(value ?? {}, key)));
  return Object.assign(type, {
    "~run": (...[dataset, config]: Parameters<T["~run"]>) =>
      run(refuses(dataset.value) ? { value: null } : dataset, config),
  });
}

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
