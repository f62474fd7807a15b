import { element } from "../xml.ts";
import type { CharacteristicFacts, CharacteristicForm } from "./contract.ts";
import { dimensionTolerance, target } from "./tolerance.ts";

/** What the standard has no characteristic for: a length or an angle, with words that say what is measured. */
export function userDefined({ record, of, to }: CharacteristicFacts): CharacteristicForm {
  const names = of.map(({ facts }) => facts.name).join(", ");
  const datum = to === null ? "" : ` to ${to.facts.name}`;
  return {
    element: record.unit === "deg" ? "UserDefinedAngular" : "UserDefinedLinear",
    features: to === null ? of : [...of, to],
    definition: [
      dimensionTolerance(record),
      element("WhatToMeasure", `${record.kind} of ${names}${datum}: ${record.method}`),
    ],
    nominal: [target(record)],
  };
}
