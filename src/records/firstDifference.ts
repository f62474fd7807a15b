export interface Difference {
  /** Keys from the root, such as `characteristics[2].value`. */
  readonly path: string;
  readonly stored: unknown;
  readonly fresh: unknown;
}

/**
 * The first place where two JSON values differ, in the order of the stored one; null when they are equal. Numbers differ
 * when they are further apart than `relative` times the larger; 0 asks for the same bits.
 */
export function firstDifference(stored: unknown, fresh: unknown, relative = 0, path = ""): Difference | null {
  if (typeof stored === "number" && typeof fresh === "number") {
    const apart = Math.abs(stored - fresh);
    const same =
      Object.is(stored, fresh) ||
      stored === fresh ||
      apart <= relative * Math.max(Math.abs(stored), Math.abs(fresh));
    return same ? null : { path, stored, fresh };
  }
  if (Array.isArray(stored) && Array.isArray(fresh)) return inLists(stored, fresh, relative, path);
  if (isObject(stored) && isObject(fresh)) return inObjects(stored, fresh, relative, path);
  return Object.is(stored, fresh) ? null : { path, stored, fresh };
}

function inLists(stored: unknown[], fresh: unknown[], relative: number, path: string): Difference | null {
  for (let i = 0; i < Math.max(stored.length, fresh.length); i++) {
    const difference = firstDifference(stored[i], fresh[i], relative, `${path}[${i}]`);
    if (difference !== null) return difference;
  }
  return null;
}

type JsonObject = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is JsonObject =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function inObjects(stored: JsonObject, fresh: JsonObject, relative: number, path: string): Difference | null {
  for (const key of new Set([...Object.keys(stored), ...Object.keys(fresh)])) {
    const inner = path === "" ? key : `${path}.${key}`;
    const difference = firstDifference(stored[key], fresh[key], relative, inner);
    if (difference !== null) return difference;
  }
  return null;
}
