import type { XmlElement } from "../xml.ts";
import type { CharacteristicFacts, CharacteristicKindForm } from "./contract.ts";
import { zoneShape, zoneTolerance } from "./tolerance.ts";

const formOf = (kind: string, element: string, more: readonly XmlElement[] = []): CharacteristicKindForm => ({
  kinds: [kind],
  form(facts: CharacteristicFacts) {
    const tolerance = zoneTolerance(facts.record);
    if (tolerance === null) return null;
    return {
      element,
      features: facts.of,
      definition: [tolerance, ...more],
      algorithm: facts.inputs.zone === "least-squares" ? "LEASTSQUARES" : "MINMAX",
    };
  },
});

export const flatness = formOf("flatness", "Flatness");
/** Between two parallel lines in the plane of travel and height. */
export const straightness = formOf("straightness", "Straightness", [zoneShape("NonDiametricalZone")]);
export const roundness = formOf("roundness", "Circularity");
export const cylindricity = formOf("cylindricity", "Cylindricity");

/** One harmonic of a round: a deviation of form that has no name of its own in the standard. */
export const lobing: CharacteristicKindForm = {
  kinds: ["lobing"],
  form({ record, of }) {
    const tolerance = zoneTolerance(record);
    return tolerance === null ? null : { element: "OtherForm", features: of, definition: [tolerance] };
  },
};
