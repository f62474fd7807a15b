import type * as z from "zod/mini";
import { $ZodBoolean, $ZodEnum, type $ZodIssue, $ZodObject, $ZodTuple, $ZodUnion } from "zod/v4/core";
import { listed, meant, nearest, shown } from "./nearest.ts";
import type { KeyPath } from "./problem.ts";
import { expected, metaOf, schemaAt, written } from "./schemaWalk.ts";

/** One thing that does not fit, with its place below the checked value, before it has a line and a column. */
export interface Misfit {
  readonly path: KeyPath;
  readonly text: string;
  readonly place: "key" | "value";
  /** The key most likely meant by an unknown one. */
  readonly meant?: string | null;
}
type Issue = $ZodIssue;

/** Checks a written value; every misfit is told, not only the first. */
export function checkShape<T extends z.ZodMiniType>(
  schema: T,
  value: unknown,
  noun: string,
): { readonly value: z.output<T> | null; readonly misfits: readonly Misfit[] } {
  const result = schema.safeParse(value, { reportInput: true });
  if (result.success) return { value: result.data, misfits: [] };
  const context = { schema, value, noun };
  const misfits = result.error.issues.flatMap((issue) => misfitsOf(issue, [], context));
  return { value: null, misfits: withoutCommas(withoutMeant(misfits)) };
}

/** A key that is missing because it is spelt wrongly is one mistake, not two. */
function withoutMeant(misfits: readonly Misfit[]): readonly Misfit[] {
  const meantPaths = misfits.flatMap(({ path, meant: key }) =>
    key == null ? [] : [JSON.stringify([...path.slice(0, -1), key])],
  );
  return misfits.filter(
    ({ path, meant: key }) => key !== undefined || !meantPaths.includes(JSON.stringify(path)),
  );
}

/** `max: 0,02 mm` within brackets is a bare 0 and a key 02 mm: the comma is the one mistake. */
function withoutCommas(misfits: readonly Misfit[]): readonly Misfit[] {
  const split = misfits.filter(({ path, place }) => place === "key" && /^\d/.test(String(path.at(-1))));
  const beside = new Set(split.map(({ path }) => JSON.stringify(path.slice(0, -1))));
  return misfits.filter(
    ({ path, place, text }) =>
      place === "key" || !text.includes(BARE_NUMBER) || !beside.has(JSON.stringify(path.slice(0, -1))),
  );
}
const BARE_NUMBER = "a bare number; write it with its unit";

interface Context {
  readonly schema: unknown;
  readonly value: unknown;
  /** What the checked value is called: `a flatness entry`. */
  readonly noun: string;
}

function misfitsOf(issue: Issue, above: KeyPath, context: Context): Misfit[] {
  const path: KeyPath = [...above, ...(issue.path as (string | number)[])];
  const type = schemaAt(context.schema, context.value, path);
  const input = valueAt(context.value, path);
  if (issue.code === "unrecognized_keys")
    return issue.keys.map((key) => ({
      path: [...path, key],
      place: "key" as const,
      meant: nearest(key, keysOf(type)),
      text: unknownKey(key, keysOf(type), path.length === 0 ? context.noun : subjectOf(path)),
    }));
  if (issue.code === "invalid_union") {
    const inner = unionIssues(issue, type);
    if (inner.length > 0) return inner.flatMap((one) => misfitsOf(one, path, context));
  }
  if (issue.code === "invalid_key")
    return [
      { path, place: "key", text: `${shown(path.at(-1))}: ${issue.issues[0]?.message ?? "not a right key"}` },
    ];
  if (input === undefined && !hasKey(context.value, path)) return [missing(path, type, context)];
  return [{ path, place: "value", text: wrongValue(issue, path, type, input, context.noun) }];
}

/** The misfits of the one type of a union that was meant; none when no type was. */
function unionIssues(issue: Issue & { code: "invalid_union" }, type: unknown): readonly Issue[] {
  const structural = (errors: readonly Issue[]) =>
    errors.some((error) => error.path.length === 0 && error.code === "invalid_type");
  if (written(type) instanceof $ZodUnion) return [];
  const near = issue.errors.filter((errors) => !structural(errors));
  const known = (errors: readonly Issue[]) => errors.filter((e) => e.code === "unrecognized_keys").length;
  return near.toSorted((a, b) => known(a) - known(b) || a.length - b.length)[0] ?? [];
}

const keysOf = (type: unknown): string[] =>
  type instanceof $ZodObject ? Object.keys(type._zod.def.shape) : [];

/** The sentence about a key that is not among those that are known. */
export function unknownKey(key: string, keys: readonly string[], noun: string): string {
  const near = nearest(key, keys);
  const found = `${shown(key)} is not a key of ${noun}`;
  if (keys.length === 0) return `${found}; take it away`;
  if (/^\d/.test(key)) return `${found}; if it follows a decimal comma, write a decimal point`;
  return near === null
    ? `${found}; its keys are ${listed(keys, "and")}`
    : `${found}; did you mean "${near}"?`;
}

function missing(path: KeyPath, type: unknown, context: Context): Misfit {
  const key = path.at(-1);
  const last = typeof key === "number" ? `place ${key + 1}` : `"${key}"`;
  const owner = path.length < 2 ? context.noun : subjectOf(path.slice(0, -1));
  return { path, place: "value", text: `${owner} lacks ${last}; give ${expected(type)}` };
}

function wrongValue(issue: Issue, path: KeyPath, type: unknown, input: unknown, noun: string): string {
  const subject = path.length === 0 ? noun : subjectOf(path);
  const found = `${subject} is ${shown(input)}`;
  if (issue.code === "custom" || issue.code === "invalid_format") return `${found}; ${issue.message}`;
  if (typeof input === "string" && type instanceof $ZodEnum)
    return `${found}, which is not known here; ${meant(input, [...type._zod.values].map(String), "write one of these")}`;
  const slip = typeof input === "string" ? nearest(input, wordsOf(type)) : null;
  if (slip !== null) return `${found}, which is not known here; did you mean "${slip}"?`;
  const example = metaOf(type).example;
  if (typeof input === "number" && example !== undefined)
    return `${found}, ${BARE_NUMBER}, ${withUnit(input, example.replace(/^\S+ /, ""))}`;
  if (type instanceof $ZodBoolean && typeof input === "string" && /^(yes|no|on|off)$/i.test(input))
    return `${found}, which is a word here; write ${/^(yes|on)$/i.test(input) ? "true" : "false"}`;
  if (Array.isArray(input) && type instanceof $ZodTuple)
    return `${subject} has ${input.length} entries; expected ${expected(type)}`;
  return `${found}; expected ${expected(type)}`;
}
/** Metals expand by millionths of a length per kelvin: a number as small as that is one per kelvin already. */
const PER_KELVIN = 1e-3;
const MILLIONTH = "um/m/K";
function withUnit(value: number, unit: string): string {
  if (unit !== MILLIONTH || value === 0 || Math.abs(value) >= PER_KELVIN) return `such as "${value} ${unit}"`;
  const millionths = Number((value * 1e6).toPrecision(12));
  return `"${millionths} ${unit}" if it is per kelvin, as so small a number looks`;
}
/** Words that may stand alone where a union is expected. */
function wordsOf(type: unknown): string[] {
  const options = type instanceof $ZodUnion ? type._zod.def.options.map(written) : [];
  return options.flatMap((option) => (option instanceof $ZodEnum ? [...option._zod.values].map(String) : []));
}
function subjectOf(path: KeyPath): string {
  const last = path.at(-1);
  if (typeof last !== "number") return `"${last}"`;
  const above = path.findLast((part) => typeof part === "string");
  return above === undefined ? `entry ${last + 1}` : `entry ${last + 1} of "${above}"`;
}

function valueAt(value: unknown, path: KeyPath): unknown {
  let here = value;
  for (const part of path)
    here =
      typeof here === "object" && here !== null
        ? (here as Record<string | number, unknown>)[part]
        : undefined;
  return here;
}
function hasKey(value: unknown, path: KeyPath): boolean {
  const owner = valueAt(value, path.slice(0, -1));
  const key = path.at(-1);
  return typeof owner === "object" && owner !== null && key !== undefined && Object.hasOwn(owner, key);
}
