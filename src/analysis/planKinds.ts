import type { PlanKinds } from "../model/plan/fields.ts";
import { adviceKinds } from "./advice/index.ts";
import { characteristicKinds } from "./characteristics/index.ts";

/** What the plan reader checks entries against: the members of the two shelves. */
export const planKinds: PlanKinds = { characteristics: characteristicKinds, advice: adviceKinds };
