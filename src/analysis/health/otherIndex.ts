import type { AdvicePlan } from "../../model/plan/plan.ts";
import { say } from "../../model/say.ts";
import { withinTurn } from "../advice/shared/indices.ts";
import { deg } from "../advice/shared/words.ts";
import { type Measured, measuredOf, placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck, HealthResult } from "./contract.ts";

/** Indices are further apart than this, and a table misses its index by far less; degrees. */
const APART = 0.5;

/** A feature that the plan places at an index of B while its rows say another: the advice would turn it the wrong way. */
export const otherIndex: HealthCheck = {
  code: "other-index",
  check(context) {
    const told = new Set<string>();
    return measuredOf(context).flatMap((entry) =>
      context.plan.advice.flatMap((advice) =>
        indicesOf(advice, entry.measured.name).flatMap((index): HealthResult[] => {
          const key = `${entry.measured.name} ${index} ${entry.measured.log}`;
          const result = told.has(key) ? null : compared(entry, advice.kind, index);
          if (result === null) return [];
          told.add(key);
          return [result];
        }),
      ),
    );
  },
};

/** Indices under which an entry of the plan names a feature; such a key holds a mapping from degrees to features. */
const indicesOf = ({ inputs }: AdvicePlan, feature: string): readonly number[] =>
  Object.values(inputs)
    .filter((input) => typeof input === "object" && input !== null && !Array.isArray(input))
    .flatMap((input) => Object.entries(input as Readonly<Record<string, unknown>>))
    .flatMap(([key, name]) => (name === feature && Number.isFinite(Number(key)) ? [Number(key)] : []));

function compared({ measured, log }: Measured, kind: string, index: number): HealthResult | null {
  const b = measured.readings.b;
  const at = b?.findIndex((radians) => apart((radians * 180) / Math.PI, index) > APART) ?? -1;
  if (b === undefined || at < 0) return null;
  const line = measured.readings.line[at];
  return {
    finding: {
      level: "warning",
      code: "other-index",
      text: say("{feature} stands at B {index} in the plan's {kind}, but the log has it at B {logged}.", {
        feature: measured.name,
        index: deg(index),
        kind,
        logged: deg(Math.round(withinTurn((b[at]! * 180) / Math.PI) * 1e6) / 1e6),
      }),
      hint: say("Correct the index under {kind} in the plan, or the names or the column b of the log.", {
        kind,
      }),
      feature: measured.name,
      ...placeOf(log),
      ...(line === undefined || log === null ? {} : { line }),
    },
    undecides: [],
  };
}

/** Degrees between two indices the shorter way round; a row without B is NaN and apart from nothing. */
function apart(one: number, other: number): number {
  const turn = withinTurn(one - other);
  return Math.min(turn, 360 - turn);
}
