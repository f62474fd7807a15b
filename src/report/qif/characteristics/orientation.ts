import { decimal } from "../value.ts";
import type { XmlChildren } from "../xml.ts";
import type { CharacteristicFacts, CharacteristicForm, CharacteristicKindForm } from "./contract.ts";
import { frame, NO_MATERIAL_CONDITION, zoneShape, zoneTolerance } from "./tolerance.ts";

const ROUND_ZONE = "DiametricalZone";
const FLAT_ZONE = "PlanarZone";
const isFlat = (fit: string | undefined): boolean => fit === "plane";

function orientation(
  facts: CharacteristicFacts,
  element: string,
  { zone, nominal = [] }: { readonly zone: string; readonly nominal?: XmlChildren },
): CharacteristicForm | null {
  const tolerance = zoneTolerance(facts.record);
  if (tolerance === null) return null;
  return {
    element,
    features: facts.of,
    definition: [tolerance, frame(facts), NO_MATERIAL_CONDITION, zoneShape(zone)],
    nominal,
  };
}

/** A face lies between two planes, an axis in a cylinder. */
export const perpendicularity: CharacteristicKindForm = {
  kinds: ["perpendicularity"],
  form: (facts) =>
    orientation(facts, "Perpendicularity", {
      zone: isFlat(facts.of[0]?.facts.fit) ? FLAT_ZONE : ROUND_ZONE,
    }),
};
/** Only an axis along an axis has a round zone. */
export const parallelism: CharacteristicKindForm = {
  kinds: ["parallelism"],
  form: (facts) =>
    orientation(facts, "Parallelism", {
      zone: isFlat(facts.of[0]?.facts.fit) || isFlat(facts.to?.facts.fit) ? FLAT_ZONE : ROUND_ZONE,
    }),
};
export const angularity: CharacteristicKindForm = {
  kinds: ["angularity"],
  form({ inputs, ...facts }) {
    const angle = typeof inputs.angle === "number" ? (inputs.angle * 180) / Math.PI : null;
    return orientation({ inputs, ...facts }, "Angularity", {
      zone: FLAT_ZONE,
      nominal: [decimal("Angle", angle)],
    });
  },
};
