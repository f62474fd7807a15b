import {
  $ZodArray,
  $ZodBoolean,
  $ZodDefault,
  $ZodEnum,
  $ZodLiteral,
  $ZodNullable,
  $ZodNumber,
  $ZodObject,
  $ZodOptional,
  $ZodPipe,
  $ZodRecord,
  $ZodTuple,
  $ZodType,
  $ZodUnion,
  globalRegistry,
} from "zod/v4/core";
import type { FieldMeta } from "./fields.ts";
import { listed } from "./nearest.ts";
import type { KeyPath } from "./problem.ts";

/** The type a person writes: without what makes it optional or turns it into what the pipeline uses. */
export function written(schema: unknown): unknown {
  if (schema instanceof $ZodOptional || schema instanceof $ZodNullable)
    return written(schema._zod.def.innerType);
  if (schema instanceof $ZodDefault) return written(schema._zod.def.innerType);
  return schema instanceof $ZodPipe ? written(schema._zod.def.in) : schema;
}

export function metaOf(schema: unknown): FieldMeta {
  return schema instanceof $ZodType ? ((globalRegistry.get(schema) as FieldMeta | undefined) ?? {}) : {};
}

/** Of the types of a union the one that fits what is written best: by kind of value, a listed word first. */
export function pick(schema: unknown, value: unknown): unknown {
  const type = written(schema);
  if (!(type instanceof $ZodUnion)) return type;
  const options = type._zod.def.options.map((option) => pick(option, value));
  const keys = isMapping(value) ? Object.keys(value) : [];
  const known = (option: unknown) =>
    option instanceof $ZodObject ? keys.filter((key) => Object.hasOwn(option._zod.def.shape, key)).length : 0;
  const fitting = options.filter((option) => takes(option, value));
  return (
    fitting.find((option) => option instanceof $ZodEnum || option instanceof $ZodLiteral) ??
    fitting.toSorted((a, b) => known(b) - known(a))[0] ??
    null
  );
}
const isMapping = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function takes(type: unknown, value: unknown): boolean {
  if (type instanceof $ZodObject || type instanceof $ZodRecord) return isMapping(value);
  if (type instanceof $ZodArray || type instanceof $ZodTuple) return Array.isArray(value);
  if (type instanceof $ZodEnum) return type._zod.values.has(value as string);
  if (type instanceof $ZodLiteral) return type._zod.values.has(value as string);
  if (type instanceof $ZodNumber) return typeof value === "number";
  if (type instanceof $ZodBoolean) return typeof value === "boolean";
  return typeof value === "string" || (metaOf(type).text === true && typeof value === "number");
}

/** The type of what a value holds under one key or place. */
function child(type: unknown, part: string | number): unknown {
  if (type instanceof $ZodObject)
    return Object.hasOwn(type._zod.def.shape, part) ? type._zod.def.shape[part] : null;
  if (type instanceof $ZodRecord) return type._zod.def.valueType;
  if (type instanceof $ZodArray) return type._zod.def.element;
  return type instanceof $ZodTuple ? (type._zod.def.items[Number(part)] ?? null) : null;
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
    type = written(next) instanceof $ZodUnion ? (pick(next, here) ?? written(next)) : written(next);
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
function tellingKeys(type: $ZodObject): readonly string[] {
  const keys = Object.keys(type._zod.def.shape);
  const must = keys.filter((key) => !(type._zod.def.shape[key] instanceof $ZodOptional));
  return must.length > 0 ? must : keys.slice(0, 3);
}

/** What belongs at a place, in words. */
export function expected(schema: unknown): string {
  const type = written(schema);
  const meta = metaOf(type);
  if (meta.expects !== undefined) return meta.expects;
  if (type instanceof $ZodUnion) return listed([...new Set(type._zod.def.options.map(expected))]);
  if (type instanceof $ZodEnum) return listed([...type._zod.values].map(String));
  if (type instanceof $ZodLiteral) return listed(type._zod.def.values.map(String));
  if (type instanceof $ZodObject) return `keys such as ${listed(tellingKeys(type), "and")}`;
  if (type instanceof $ZodRecord) return "a mapping of names";
  if (type instanceof $ZodArray) return "a list";
  if (type instanceof $ZodTuple) return `a list of ${type._zod.def.items.length}`;
  if (type instanceof $ZodNumber) return "a plain number";
  if (type instanceof $ZodBoolean) return "true or false";
  return "text";
}
