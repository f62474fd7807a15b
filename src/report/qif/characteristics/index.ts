import type { CharacteristicFacts, CharacteristicForm, CharacteristicKindForm } from "./contract.ts";
import { angle, diameter, distance, offset } from "./dimension.ts";
import { cylindricity, flatness, lobing, roundness, straightness } from "./form.ts";
import { coaxiality, position } from "./location.ts";
import { angularity, parallelism, perpendicularity } from "./orientation.ts";
import { runout } from "./runout.ts";
import { userDefined } from "./userDefined.ts";

/** For tilt the standard has a taper, which has no sign and no axis, and for eccentricity nothing: both are user-defined. */
const withoutPlace: CharacteristicKindForm = { kinds: ["tilt", "eccentricity"], form: () => null };

export const characteristicForms: readonly CharacteristicKindForm[] = [
  flatness,
  straightness,
  roundness,
  cylindricity,
  perpendicularity,
  angularity,
  parallelism,
  angle,
  distance,
  diameter,
  offset,
  position,
  coaxiality,
  runout,
  lobing,
  withoutPlace,
];

/** A characteristic as the standard writes it, or as a user-defined one where it has no place. */
export function formOf(facts: CharacteristicFacts): CharacteristicForm {
  const kind = characteristicForms.find(({ kinds }) => kinds.includes(facts.record.kind));
  return kind?.form(facts) ?? userDefined(facts);
}
