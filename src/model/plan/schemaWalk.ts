import { type GenericSchema, getMetadata, type ObjectEntries } from "valibot";
import type { FieldMeta } from "./fields.ts";
import { listed } from "./nearest.ts";
import type { KeyPath } from "./problem.ts";

/** A type as the library builds it, with what its kind has. */
type Type =
  | { readonly type: "optional"; readonly wrapped: unknown }
  | { readonly type: "strict_object"; readonly entries: ObjectEntries }
  | { readonly type: "record"; readonly value: unknown }
  | { readonly type: "array"; readonly item: unknown }
  | { readonly type: "strict_tuple"; readonly items: readonly unknown[] }
  | { readonly type: "union"; readonly options: readonly unknown[] }
  | { readonly type: "picklist"; readonly options: readonly string[] }
  | { readonly type: "literal"; readonly literal: string | number }
  | { readonly type: "number" | "boolean" | "string" };
/** The type that is there when it is of this kind. */
export function kindOf<K extends Type["type"]>(
  schema: unknown,
  kind: K,
): Extract<Type, { readonly type: K }> | null {
  const type = schema as Type | null | undefined;
  return type?.type === kind ? (type as Extract<Type, { readonly type: K }>) : null;
}

/** The type a person writes: without what makes it optional. */
function written(schema: unknown): unknown {
  const optional = kindOf(schema, "optional");
  return optional === null ? schema : written(optional.wrapped);
}

export const metaOf = (schema: unknown): FieldMeta =>
  schema == null ? {} : (getMetadata(schema as GenericSchema) as FieldMeta);

/** Of the types of a union the one that fits what is written best: by kind of value, a listed word first. */
export function pick(schema: unknown, value: unknown): unknown {
  const type = written(schema);
  const union = kindOf(type, "union");
  if (union === null) return type;
  const keys = isMapping(value) ? Object.keys(value) : [];
  const known = (option: unknown) => {
    const entries = kindOf(option, "strict_object")?.entries;
    return entries === undefined ? 0 : keys.filter((key) => Object.hasOwn(entries, key)).length;
  };
  const fitting = union.options
    .map((option) => pick(option, value))
    .filter((option) => takes(option as Type, value));
  return (
    fitting.find((option) => kindOf(option, "picklist") ?? kindOf(option, "literal")) ??
    fitting.toSorted((a, b) => known(b) - known(a))[0] ??
    null
  );
}
const isMapping = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function takes(type: Type, value: unknown): boolean {
  switch (type.type) {
    case "strict_object":
    case "record":
      return isMapping(value);
    case "array":
    case "strict_tuple":
      return Array.isArray(value);
    case "picklist":
      return type.options.includes(value as string);
    case "literal":
      return type.literal === value;
    case "number":
    case "boolean":
      return typeof value === type.type;
    default:
      return typeof value === "string" || (metaOf(type).text === true && typeof value === "number");
  }
}

/** The type of what a value holds under one key or place. */
function child(schema: unknown, part: string | number): unknown {
  const type = schema as Type | null;
  switch (type?.type) {
    case "strict_object":
      return Object.hasOwn(type.entries, part) ? type.entries[part] : null;
    case "record":
      return type.value;
    case "array":
      return type.item;
    case "strict_tuple":
      return type.items[Number(part)] ?? null;
    default:
      return null;
  }
}

/** The type that stands for the value at a path, unions settled by what is written there. */
export function schemaAt(schema: unknown, value: unknown, path: KeyPath): unknown {
  let type = pick(schema, value);
  let here = value;
  for (const part of path) {
    here =
      isMapping(here) || Array.isArray(here) ? (here as Record<string | number, unknown>)[part] : undefined;
    const next = child(type, part);
    // A last union stays whole: what is expected there is any of its types.
    type = pick(next, here) ?? written(next);
  }
  return type;
}

/** Visits every written value with its type; what `visit` returns takes the value's place. */
export function mapWritten(
  schema: unknown,
  value: unknown,
  path: KeyPath,
  visit: (value: unknown, meta: FieldMeta, path: KeyPath) => unknown,
): unknown {
  const type = pick(schema, value);
  if (Array.isArray(value))
    return value.map((item, index) => mapWritten(child(type, index), item, [...path, index], visit));
  if (isMapping(value)) {
    const result: Record<string, unknown> = Object.create(null);
    for (const [key, item] of Object.entries(value))
      result[key] = mapWritten(child(type, key), item, [...path, key], visit);
    return result;
  }
  return visit(value, metaOf(type), path);
}

/** The keys a mapping must have, else the first few it may have. */
function tellingKeys(entries: ObjectEntries): readonly string[] {
  const keys = Object.keys(entries);
  const must = keys.filter((key) => kindOf(entries[key], "optional") === null);
  return must.length > 0 ? must : keys.slice(0, 3);
}

/** What belongs at a place, in words. */
export function expected(schema: unknown): string {
  const type = written(schema) as Type | null;
  const meta = metaOf(type);
  if (meta.expects !== undefined) return meta.expects;
  switch (type?.type) {
    case "union":
      return listed([...new Set(type.options.map(expected))]);
    case "picklist":
      return listed(type.options);
    case "literal":
      return String(type.literal);
    case "strict_object":
      return `keys such as ${listed(tellingKeys(type.entries), "and")}`;
    case "record":
      return "a mapping of names";
    case "array":
      return "a list";
    case "strict_tuple":
      return `a list of ${type.items.length}`;
    case "number":
      return "a plain number";
    case "boolean":
      return "true or false";
    default:
      return "text";
  }
}
