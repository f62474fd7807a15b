import { references } from "./attributes.ts";
import type { Ids } from "./ids.ts";
import type { QifFeature } from "./qifFeatures.ts";
import { counted, element, type XmlElement } from "./xml.ts";

/** Datums as the characteristics ask for them: one definition and one reference frame for each datum feature. */
export interface Datums {
  /** Number of the reference frame whose only datum is this feature. */
  frameOf(feature: QifFeature): number;
  definitions(): XmlElement | null;
  frames(): XmlElement | null;
}
interface Datum {
  readonly label: string;
  readonly nominalId: number;
  readonly definitionId: number;
  readonly frameId: number;
}

export function collectDatums(ids: Ids): Datums {
  const datums = new Map<string, Datum>();
  return {
    frameOf(feature) {
      const { name } = feature.facts;
      const known = datums.get(name);
      if (known !== undefined) return known.frameId;
      const taken = [...datums.values()].map(({ label }) => label);
      const made = {
        label: freeLabel(name, taken),
        nominalId: feature.nominalId,
        definitionId: ids.next(),
        frameId: ids.next(),
      };
      datums.set(name, made);
      return made.frameId;
    },
    definitions: () => counted("DatumDefinitions", [...datums.values()].map(definition)),
    frames: () => counted("DatumReferenceFrames", [...datums.values()].map(frame)),
  };
}

const LONGEST_LABEL = 64;
/** The feature's name as far as an XML name token can hold it; a number behind it keeps two of them apart. */
function freeLabel(name: string, taken: readonly string[]): string {
  const label = name.replace(/[^A-Za-z0-9._-]+/g, "-").slice(0, LONGEST_LABEL) || "datum";
  let free = label;
  for (let number = 2; taken.includes(free); number++) free = `${label}-${number}`;
  return free;
}

const definition = ({ label, nominalId, definitionId }: Datum): XmlElement =>
  element("DatumDefinition", [element("DatumLabel", label), references("FeatureNominalIds", [nominalId])], {
    id: String(definitionId),
  });

const frame = ({ definitionId, frameId }: Datum): XmlElement =>
  element(
    "DatumReferenceFrame",
    [
      counted("Datums", [
        element("Datum", [
          element("SimpleDatum", [
            element("DatumDefinitionId", String(definitionId)),
            element("MaterialModifier", "NONE"),
            element("ReferencedComponent", "ACTUAL"),
          ]),
          element("Precedence", [element("PrecedenceEnum", "PRIMARY")]),
        ]),
      ]),
    ],
    { id: String(frameId) },
  );
