import { planKinds } from "../../analysis/planKinds.ts";
import { planJsonSchema } from "../../model/plan/planJsonSchema.ts";
import { Trouble } from "../../model/trouble.ts";
import { shippedText } from "../../records/assets.ts";
import { print } from "../output.ts";

const STARTERS = ["column", "chuck", "stock", "first-side", "second-side"] as const;

/** `plinth plan`: a commented starter plan, or the JSON Schema of plans, on stdout. */
export async function plan(kind: string | undefined, options: { readonly schema?: true }): Promise<void> {
  if (options.schema) return print(JSON.stringify(planJsonSchema(planKinds), null, 2));
  const known = STARTERS.find((starter) => starter === kind);
  if (known === undefined)
    throw new Trouble(
      "usage",
      `plinth plan${kind === undefined ? "" : ` ${kind}`}: expected one of ${STARTERS.join(", ")}; for example plinth plan column.`,
    );
  print((await shippedText(`templates/plans/${known}.yaml`)).trimEnd());
}
