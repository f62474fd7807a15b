import type { CharacteristicFacts, CharacteristicKindForm } from "./contract.ts";
import { frame, NO_MATERIAL_CONDITION, zoneShape, zoneTolerance } from "./tolerance.ts";

/** The zone lies about a stated place: an axis left out of it makes a sphere a cylinder, two of them a pair of planes. */
export const position: CharacteristicKindForm = {
  kinds: ["position"],
  form(facts) {
    const tolerance = zoneTolerance(facts.record);
    if (tolerance === null) return null;
    return {
      element: "Position",
      features: facts.of,
      definition: [tolerance, NO_MATERIAL_CONDITION, zoneShape(positionZone(facts))],
    };
  },
};
function positionZone({ inputs, of }: CharacteristicFacts): string {
  const stated = Object.values(inputs.at ?? {}).filter((part) => typeof part === "number").length;
  if (stated === 1) return "NonDiametricalZone";
  const round = ["point", "sphere"].includes(of[0]?.facts.fit ?? "");
  return round && stated !== 2 ? "SphericalZone" : "DiametricalZone";
}

export const coaxiality: CharacteristicKindForm = {
  kinds: ["coaxiality"],
  form(facts) {
    const tolerance = zoneTolerance(facts.record);
    if (tolerance === null) return null;
    return {
      element: "Coaxiality",
      features: facts.of,
      definition: [tolerance, frame(facts), zoneShape("DiametricalZone")],
    };
  },
};
