import type { Finding } from "../../model/finding.ts";
import type { ReportSignOff, SetupReport, Verdict } from "../../model/setupReport.ts";
import { type Attribute, attributes, references } from "./attributes.ts";
import { isDateTime } from "./dateTime.ts";
import { nameUuid } from "./nameUuid.ts";
import { counted, element, optional, token, type XmlElement } from "./xml.ts";

export interface ResultsParts {
  readonly resultsId: number;
  readonly softwareId: number;
  /** Null when no serial number is known. */
  readonly componentId: number | null;
  readonly measuredFeatures: XmlElement | null;
  readonly measuredCharacteristics: XmlElement | null;
}

/** The status of the whole: the standard's inspection has no word for undecided but UNKNOWN. */
export const INSPECTION_STATUS: Readonly<Record<Verdict, string>> = {
  pass: "PASS",
  fail: "FAIL",
  undecided: "UNKNOWN",
  missing: "NOT_MEASURED",
};

/** One set of results: the setup, what was measured, and the verdicts. */
export function resultsElement(report: SetupReport, parts: ResultsParts): XmlElement {
  const component = componentSets(report, parts.componentId);
  return element("Results", [
    counted("MeasurementResultsSet", [
      element(
        "MeasurementResults",
        [
          attributes(circumstances(report)),
          traceability(report, parts.softwareId),
          element("ThisResultsInstanceQPId", nameUuid(`results ${JSON.stringify(report)}`)),
          enclosures(report),
          parts.measuredFeatures,
          parts.measuredCharacteristics,
          element("InspectionStatus", [status(report.verdict)]),
          references("ActualComponentIds", parts.componentId === null ? [] : [parts.componentId]),
        ],
        { id: String(parts.resultsId) },
      ),
    ]),
    component,
  ]);
}
const status = (verdict: Verdict): XmlElement => element("InspectionStatusEnum", INSPECTION_STATUS[verdict]);

const circumstances = ({
  report,
  verdict,
  counts,
  plan,
  decision,
  setup,
  signOffs,
}: SetupReport): Attribute[] => [
  ["report", report.id],
  ["revision", report.revision],
  ["replacesRevision", report.replaces],
  ["verdict", verdict],
  ...Object.entries(counts).map(([name, count]): Attribute => [`count ${name}`, count]),
  ["plan", plan.name],
  ["planTitle", plan.title],
  ["planSha256", plan.sha256],
  ["decisionRule", decision.rule],
  ["guardFactor", decision.guard],
  ...Object.entries(setup).map(([name, value]): Attribute => [`setup ${name}`, value]),
  ...signOffs.map((entry): Attribute => [`sign-off ${entry.id}`, signOff(entry)]),
];
function signOff({ value, unit, by, time, verdict, because }: ReportSignOff): string {
  const said = value === null ? "" : ` ${value}${unit === null ? "" : ` ${unit}`}`;
  const signed = by === null ? "" : ` by ${by}${time === null ? "" : ` at ${time}`}`;
  return `${verdict}:${said}${signed} (${because})`;
}

function traceability({ report, setup, findings }: SetupReport, softwareId: number): XmlElement {
  const operator = token(setup.operator ?? "");
  return element("InspectionTraceability", [
    element("ReportNumber", `${report.id}_r${report.revision}`),
    element("InspectionSoftwareItems", [references("AnalysisSoftware", [softwareId])]),
    operator === "" ? null : element("InspectionOperator", [element("Name", operator)]),
    optional("ReportPreparationDate", isDateTime(report.issued) ? report.issued : null),
    counted(
      "Errors",
      findings.filter(({ level }) => level === "error").map((finding) => element("Error", said(finding))),
    ),
    attributes(
      findings
        .filter(({ level }) => level !== "error")
        .map((finding): Attribute => [finding.level, said(finding)]),
    ),
  ]);
}
const said = ({ code, text }: Finding): string => `${code}: ${text}`;

/** The record this file was made from, and the logs by name and hash. */
function enclosures({ report, logs }: SetupReport): XmlElement | null {
  const record = `${report.id}_r${report.revision}.json`;
  return counted("ExternalFileReferences", [
    file(record, "the whole report, with plan and logs, of which this file shows the results"),
    ...logs.map(({ name, sha256 }) => file(name, `log with SHA-256 ${sha256}`)),
  ]);
}
function file(name: string, description: string): XmlElement {
  const ending = /\.([A-Za-z0-9]{1,8})$/.exec(name)?.[1]?.toUpperCase() ?? "LOG";
  return element("ExternalFileReference", [
    element("URI", encodeURIComponent(name.replace(/\p{Cs}/gu, "\ufffd"))),
    element("FileSpec", [element("OtherFileSpec", ending)]),
    element("Description", description),
  ]);
}

function componentSets({ setup, verdict }: SetupReport, id: number | null): XmlElement | null {
  if (id === null) return null;
  const component = element(
    "ActualComponent",
    [element("SerialNumber", setup.serial ?? ""), element("Status", [status(verdict)])],
    { id: String(id) },
  );
  return counted("ActualComponentSets", [counted("ActualComponentSet", [component])]);
}
