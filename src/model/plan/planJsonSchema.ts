import { toJsonSchema } from "@valibot/to-json-schema";
import type { FieldMeta, PlanKinds } from "./fields.ts";
import { wholePlan } from "./planSchema.ts";

/** JSON Schema (draft 2020-12) of a plan as it is written, so that an editor completes and checks while one types. */
export function planJsonSchema(kinds: PlanKinds): Record<string, unknown> {
  const schema = toJsonSchema(wholePlan(kinds), {
    typeMode: "input",
    target: "draft-2020-12",
    ignoreActions: ["check", "finite"],
    overrideAction({ valibotAction, jsonSchema }) {
      if (valibotAction.type !== "metadata") return null;
      // What only the reader of plans understands says nothing to an editor.
      const { expects, example, reference, text, ...told } = jsonSchema as FieldMeta & typeof jsonSchema;
      return told;
    },
  });
  return { ...schema, title: "Plan for a setup report" };
}
