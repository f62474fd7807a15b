import type { Plan } from "../../model/plan/plan.ts";
import type { SetupReport } from "../../model/setupReport.ts";
import { isDateTime } from "./dateTime.ts";
import { collectDatums } from "./datums.ts";
import { decimalText } from "./decimalText.ts";
import { devicesOf } from "./devices.ts";
import { headerElement } from "./header.ts";
import { countingIds } from "./ids.ts";
import { nameUuid } from "./nameUuid.ts";
import { characteristicsElement, measuredCharacteristics, qifCharacteristics } from "./qifCharacteristics.ts";
import { featuresElement, measuredFeatures, qifFeatures } from "./qifFeatures.ts";
import { resultsElement } from "./results.ts";
import { counted, element, token, type XmlElement, xmlDocument } from "./xml.ts";

export const QIF_NAMESPACE = "http://qifstandards.org/xsd/qif3";
export const QIF_VERSION = "3.0.0";

/**
 * The results of a report as a QIF document (ISO 23952:2020, version 3.0 of the schemas): features and characteristics with
 * definition, nominal, item and measurement. Lengths in mm, angles in degrees, full doubles. The same report and plan give
 * the same bytes.
 * @param plan the plan that the report encloses, read; null when it cannot be read: then what only the plan says is left out
 */
export function reportQif(report: SetupReport, plan: Plan | null): string {
  const ids = countingIds();
  const [standardId, softwareId] = [ids.next(), ids.next()];
  const devices = devicesOf(report, plan, ids);
  const features = qifFeatures(report, plan, ids);
  const datums = collectDatums(ids);
  const characteristics = qifCharacteristics(report, {
    plan,
    features,
    datums,
    ids,
    devicesOf: devices.of,
  });
  const serial = report.setup.serial ?? "";
  const componentId = serial === "" ? null : ids.next();
  const resultsId = ids.next();
  const children = [
    element("QPId", nameUuid(`document ${JSON.stringify(report)}`)),
    isDateTime(report.report.issued)
      ? element("Version", [element("TimeCreated", report.report.issued)])
      : null,
    headerElement(report, { features, characteristics }),
    standards(standardId),
    software(report, softwareId),
    UNITS,
    datums.definitions(),
    datums.frames(),
    devices.element,
    featuresElement(features),
    characteristicsElement(characteristics, standardId),
    resultsElement(report, {
      resultsId,
      softwareId,
      componentId,
      measuredFeatures: measuredFeatures(features, devices.of),
      measuredCharacteristics: measuredCharacteristics(characteristics),
    }),
  ];
  return xmlDocument(
    element("QIFDocument", children, {
      xmlns: QIF_NAMESPACE,
      versionQIF: QIF_VERSION,
      idMax: String(ids.last),
    }),
  );
}

/** Factors to the SI unit: 1 mm is 0.001 m exactly, 1 degree is pi/180 rad as a double. */
const UNITS: XmlElement = element("FileUnits", [
  element("PrimaryUnits", [
    unit("AngularUnit", { si: "radian", name: "degree", factor: Math.PI / 180 }),
    unit("LinearUnit", { si: "meter", name: "mm", factor: 0.001 }),
  ]),
]);
function unit(kind: string, { si, name, factor }: { si: string; name: string; factor: number }): XmlElement {
  return element(kind, [
    element("SIUnitName", si),
    element("UnitName", name),
    element("UnitConversion", [element("Factor", decimalText(factor))]),
  ]);
}

const standards = (id: number): XmlElement | null =>
  counted("StandardsDefinitions", [
    element(
      "Standard",
      [
        element("Organization", [element("StandardsOrganizationEnum", "ISO")]),
        element("Designator", "1101"),
        element("Year", "2017"),
      ],
      { id: String(id) },
    ),
  ]);

const software = ({ generator }: SetupReport, id: number): XmlElement | null =>
  counted("SoftwareDefinitions", [
    element(
      "Software",
      [
        element("VendorName", token(generator.name)),
        element("ApplicationName", token(generator.name)),
        element("Version", token(generator.version)),
      ],
      { id: String(id) },
    ),
  ]);
