import { type BaseIssue, type GenericSchema, type InferOutput, safeParse } from "valibot";
import { listed, meant, nearest, shown } from "./nearest.ts";
import type { KeyPath } from "./problem.ts";
import { expected, kindOf, metaOf, schemaAt } from "./schemaWalk.ts";

/** One thing that does not fit, with its place below the checked value, before it has a line and a column. */
export interface Misfit {
  readonly path: KeyPath;
  readonly text: string;
  readonly place: "key" | "value";
  /** The key most likely meant by an unknown one. */
  readonly meant?: string | null;
}
type Issue = BaseIssue<unknown>;

/** Checks a written value; every misfit is told, not only the first. */
export function checkShape<T extends GenericSchema>(
  schema: T,
  value: unknown,
  noun: string,
): { readonly value: InferOutput<T> | null; readonly misfits: readonly Misfit[] } {
  const result = safeParse(schema, value);
  if (result.success) return { value: result.output, misfits: [] };
  const context = { schema, value, noun };
  const misfits = result.issues.flatMap((issue) => misfitsOf(issue, [], context));
  return { value: null, misfits: withoutCommas(withoutMeant(withoutRepeats(misfits))) };
}

/** A list of a wrong length is told once, not for each place; and nothing of the value under a wrong key. */
function withoutRepeats(misfits: readonly Misfit[]): readonly Misfit[] {
  const told = new Map(misfits.map((misfit) => [JSON.stringify([misfit.path, misfit.text]), misfit]));
  const keys = new Set(misfits.flatMap(({ path, place }) => (place === "key" ? [JSON.stringify(path)] : [])));
  return [...told.values()].filter(({ path, place }) => place === "key" || !keys.has(JSON.stringify(path)));
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
  const path: KeyPath = [...above, ...(issue.path ?? []).map(({ key }) => key as string | number)];
  const list = listOfOtherLength(path, context);
  if (list !== null) return [{ path: list, place: "value", text: otherLength(list, context) }];
  if (issue.type === "strict_object" && issue.expected === "never")
    return unknownKeys(path.slice(0, -1), context);
  if (issue.path?.at(-1)?.origin === "key" && issue.kind === "validation")
    return [{ path, place: "key", text: `${shown(path.at(-1))}: ${issue.message}` }];
  if (path.length > 0 && !hasKey(context.value, path))
    return [missing(path, schemaAt(context.schema, context.value, path), context)];
  const inner = issue.type === "union" ? meantIssues(path, context) : [];
  if (inner.length > 0) return inner.flatMap((one) => misfitsOf(one, path, context));
  return [{ path, place: "value", text: wrongValue(issue, path, context) }];
}

/** The misfits of the one type of a union that was meant; none when no type was. */
function meantIssues(path: KeyPath, { schema, value }: Context): readonly Issue[] {
  const type = schemaAt(schema, value, path);
  if (type === null || kindOf(type, "union")) return [];
  return safeParse(type as GenericSchema, valueAt(value, path)).issues ?? [];
}

/** The place of the list of a fixed length above, or at, a place, when it is longer or shorter. */
function listOfOtherLength(path: KeyPath, { schema, value }: Context): KeyPath | null {
  for (let end = 0; end <= path.length; end++) {
    const at = path.slice(0, end);
    const tuple = kindOf(schemaAt(schema, value, at), "strict_tuple");
    const list = valueAt(value, at);
    if (tuple && Array.isArray(list) && list.length !== tuple.items.length) return at;
  }
  return null;
}

function otherLength(path: KeyPath, { schema, value, noun }: Context): string {
  const { length } = valueAt(value, path) as readonly unknown[];
  const subject = path.length === 0 ? noun : subjectOf(path);
  return `${subject} has ${length} ${length === 1 ? "entry" : "entries"}; expected ${expected(schemaAt(schema, value, path))}`;
}

function unknownKeys(path: KeyPath, context: Context): Misfit[] {
  const keys = keysOf(schemaAt(context.schema, context.value, path));
  const noun = path.length === 0 ? context.noun : subjectOf(path);
  return Object.keys(valueAt(context.value, path) as object)
    .filter((key) => !keys.includes(key))
    .map((key) => ({
      path: [...path, key],
      place: "key" as const,
      meant: nearest(key, keys),
      text: unknownKey(key, keys, noun),
    }));
}

const keysOf = (type: unknown): string[] => Object.keys(kindOf(type, "strict_object")?.entries ?? {});

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

/** Checks whose messages are sentences of ours. */
const TOLD = ["check", "regex", "raw_transform"];

function wrongValue(issue: Issue, path: KeyPath, { schema, value, noun }: Context): string {
  const type = schemaAt(schema, value, path);
  const input = valueAt(value, path);
  const subject = path.length === 0 ? noun : subjectOf(path);
  const found = `${subject} is ${shown(input)}`;
  if (TOLD.includes(issue.type)) return `${found}; ${issue.message}`;
  const words = kindOf(type, "picklist")?.options;
  if (typeof input === "string" && words !== undefined)
    return `${found}, which is not known here; ${meant(input, words, "write one of these")}`;
  const slip = typeof input === "string" ? nearest(input, wordsOf(type)) : null;
  if (slip !== null) return `${found}, which is not known here; did you mean "${slip}"?`;
  const example = metaOf(type).example;
  if (typeof input === "number" && example !== undefined)
    return `${found}, ${BARE_NUMBER}, ${withUnit(input, example.replace(/^\S+ /, ""))}`;
  if (kindOf(type, "boolean") && typeof input === "string" && /^(yes|no|on|off)$/i.test(input))
    return `${found}, which is a word here; write ${/^(yes|on)$/i.test(input) ? "true" : "false"}`;
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
function wordsOf(type: unknown): readonly string[] {
  const options = kindOf(type, "union")?.options ?? [];
  return options.flatMap((option) => kindOf(option, "picklist")?.options ?? []);
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
