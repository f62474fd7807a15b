import { type Said, say } from "../model/say.ts";

const KG_PER_POUND = 0.45359237;
/** Above this a hoist is asked for unless the shop states its own limit: 35 lb (common practice, no source). */
export const HOIST_ABOVE_KG = 35 * KG_PER_POUND;

/** A blank as a solid: lengths in mm. */
export type Blank =
  | { readonly diameterMm: number; readonly lengthMm: number }
  | { readonly widthMm: number; readonly heightMm: number; readonly lengthMm: number };

/** Mass in kg of a solid round or rectangular blank from its size in mm and its density in kg/mm3. */
export function weightKg(blank: Blank, densityKgPerMm3: number): number {
  const area = "diameterMm" in blank ? (Math.PI / 4) * blank.diameterMm ** 2 : blank.widthMm * blank.heightMm;
  return densityKgPerMm3 * area * blank.lengthMm;
}

/** The weight as a line, in kilograms and pounds, with the word about the hoist where it is due. */
export function weightLine(kg: number, hoistAboveKg: number = HOIST_ABOVE_KG): Said {
  const values = {
    kg: { value: kg, unit: "kg", digits: 1 },
    lb: { value: kg / KG_PER_POUND, unit: "lb", digits: 0 },
    limit: { value: hoistAboveKg, unit: "kg", digits: 1 },
  };
  return kg > hoistAboveKg
    ? say("Blank about {kg} ({lb}), calculated, not weighed: use the hoist (above {limit}).", values)
    : say("Blank about {kg} ({lb}), calculated, not weighed.", values);
}
