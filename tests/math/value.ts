import type { NoResult, Outcome } from "../../src/math/outcome.ts";

/** The result of an outcome that must have one. */
export function value<T>(outcome: Outcome<T>): T & { readonly ok: true } {
  if (!outcome.ok) throw new Error(`no result: ${outcome.code}: ${outcome.text}`);
  return outcome;
}
/** The reason of an outcome that must have none. */
export function refused<T>(outcome: Outcome<T>): NoResult["code"] {
  if (outcome.ok) throw new Error("a result where none is possible");
  return outcome.code;
}
