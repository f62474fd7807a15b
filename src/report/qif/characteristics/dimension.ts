import { tripleText } from "../attributes.ts";
import { directionOf } from "../features/parts.ts";
import { element, type XmlElement } from "../xml.ts";
import type {
  Algorithm,
  CharacteristicFacts,
  CharacteristicForm,
  CharacteristicKindForm,
} from "./contract.ts";
import { dimensionTolerance, target, vectorAlong } from "./tolerance.ts";

/** Association criteria of a size and their modifiers: GG, GX and GN (ISO 14405-1). */
const SIZES: Readonly<Record<string, { readonly modifier: string; readonly algorithm: Algorithm }>> = {
  "least-squares": { modifier: "GG", algorithm: "LEASTSQUARES" },
  inscribed: { modifier: "GX", algorithm: "MAXINSCRIBED" },
  circumscribed: { modifier: "GN", algorithm: "MINCIRCUMSCRIBED" },
};
const LEAST_SQUARES = { modifier: "GG", algorithm: "LEASTSQUARES" } as const;

export const diameter: CharacteristicKindForm = {
  kinds: ["diameter"],
  form({ record, inputs, of }) {
    const size = (typeof inputs.size === "string" ? SIZES[inputs.size] : undefined) ?? LEAST_SQUARES;
    return {
      element: of[0]?.facts.fit === "sphere" ? "SphericalDiameter" : "Diameter",
      features: of,
      definition: [
        element("DimensionModifiers", [element("DeterminationModifier", size.modifier)]),
        dimensionTolerance(record),
      ],
      nominal: [target(record)],
      algorithm: size.algorithm,
    };
  },
};

/** The angle between two directions in space, 0 to 90 degrees. */
export const angle: CharacteristicKindForm = {
  kinds: ["angle"],
  form({ record, of, to }) {
    if (to === null) return null;
    return {
      element: "AngleBetween",
      features: [...of, to],
      definition: [dimensionTolerance(record)],
      nominal: [target(record), element("AnalysisMode", "THREEDIMENSIONAL")],
    };
  },
};

/** From a datum feature, or as a coordinate from the log's zero. */
export const distance: CharacteristicKindForm = {
  kinds: ["distance"],
  form: (facts) =>
    facts.to === null ? coordinate(facts) : distanceFrom(facts, facts.to, facts.to.facts.fit === "plane"),
};
/** From another feature; from a stated place the standard has none. */
export const offset: CharacteristicKindForm = {
  kinds: ["offset"],
  form(facts) {
    const from = typeof facts.inputs.from === "string" ? facts.feature(facts.inputs.from) : null;
    return from === null ? null : distanceFrom(facts, from, false);
  },
};

function distanceFrom(
  { record, inputs, of }: CharacteristicFacts,
  from: CharacteristicFacts["of"][number],
  alongNormal: boolean,
): CharacteristicForm {
  const normal = alongNormal ? directionOf(from.facts) : null;
  const vector = vectorAlong(inputs.along) ?? (normal === null ? null : tripleText(normal));
  return {
    element: "DistanceFrom",
    features: of,
    definition: [dimensionTolerance(record)],
    nominal: [
      target(record),
      element("OriginReference", [
        element("FeatureNominalId", String(from.nominalId)),
        element("ReferencedComponent", "ACTUAL"),
      ]),
      vector === null ? null : element("AnalysisVector", vector),
      element("AnalysisMode", vector === null ? "THREEDIMENSIONAL" : "ONEDIMENSIONAL"),
    ],
  };
}

const COORDINATES: XmlElement = element("TypeOfCoordinates", [element("CoordinateEnum", "CARTESIAN_3D")]);
function coordinate({ record, inputs, of }: CharacteristicFacts): CharacteristicForm | null {
  const { along } = inputs;
  if (typeof along !== "string" || vectorAlong(along) === null) return null;
  return {
    element: "LinearCoordinate",
    features: of,
    definition: [dimensionTolerance(record)],
    nominal: [target(record), element("Direction", `${along.toUpperCase()}AXIS`)],
    measurement: [COORDINATES],
  };
}
