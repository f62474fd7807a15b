import type { SetupReport } from "../../model/setupReport.ts";
import type { QifCharacteristic } from "./qifCharacteristics.ts";
import type { QifFeature } from "./qifFeatures.ts";
import { element, token, type XmlElement } from "./xml.ts";

interface Written {
  readonly features: readonly QifFeature[];
  readonly characteristics: readonly QifCharacteristic[];
}

/** Who wrote the file, and in words what a reader must know of it: how its words are meant, and what it leaves out. */
export function headerElement(report: SetupReport, written: Written): XmlElement {
  return element("Header", [
    element("Application", [element("Name", token(report.generator.name))]),
    element("Description", remarks(report, written).join(" ")),
    element("Scope", "Results"),
  ]);
}

function remarks({ report, advice, signOffs }: SetupReport, written: Written): readonly string[] {
  const userDefined = [
    ...new Set(
      written.characteristics
        .filter(({ form }) => form.element.startsWith("UserDefined"))
        .map(({ record }) => record.kind),
    ),
  ];
  const shapeless = written.features.filter(({ aspects }) => aspects.nominal.length === 0);
  return [
    `Results of the setup report ${report.id}, revision ${report.revision}. Lengths in mm, angles in degrees.`,
    "INDETERMINATE: these data do not decide; NOT_ANALYZED: nothing was measured.",
    "combinedUncertainty is the expanded uncertainty over its coverage factor.",
    "Places of feature nominals, and directions and sizes where the plan states none, repeat what was measured: they are no drawing values.",
    ...(userDefined.length === 0
      ? []
      : [
          `Written as user-defined, because QIF has no place for them as planned: ${userDefined.join(", ")}.`,
        ]),
    ...(shapeless.length === 0
      ? []
      : [
          `Written as other shapes, because too little is known of them: ${shapeless.map(({ facts }) => facts.name).join(", ")}.`,
        ]),
    ...(signOffs.length === 0 ? [] : ["Sign-offs stand among the attributes of the results."]),
    ...(advice.length === 0
      ? []
      : [`Advice has no place in QIF: it stands in ${report.id}_r${report.revision}.json.`]),
  ];
}
