import * as z from "zod/mini";
import type { PlanKinds } from "./fields.ts";
import { wholePlan } from "./planSchema.ts";

/** JSON Schema (draft 2020-12) of a plan as it is written, so that an editor completes and checks while one types. */
export function planJsonSchema(kinds: PlanKinds): Record<string, unknown> {
  const schema = z.toJSONSchema(wholePlan(kinds), {
    io: "input",
    target: "draft-2020-12",
    override: ({ jsonSchema }) => {
      // What only the reader of plans understands says nothing to an editor.
      for (const own of ["expects", "example", "reference", "text"]) delete jsonSchema[own];
    },
  });
  return { ...schema, title: "Plan for a setup report" };
}
