import type { Plan } from "../../model/plan/plan.ts";
import type { ReportFeature, SetupReport } from "../../model/setupReport.ts";
import { type Attribute, attributes, references } from "./attributes.ts";
import type { FeatureAspects, FeatureFacts, FeatureShape } from "./features/contract.ts";
import { shapeOf } from "./features/index.ts";
import type { Ids } from "./ids.ts";
import { counted, element, token, type XmlElement } from "./xml.ts";

/** A feature with the numbers of its four aspects. */
export interface QifFeature {
  readonly facts: FeatureFacts;
  readonly shape: FeatureShape;
  readonly aspects: FeatureAspects;
  readonly definitionId: number;
  readonly nominalId: number;
  readonly itemId: number;
  /** Null when nothing was measured. */
  readonly measurementId: number | null;
}

/** Every feature of the report and every one that a characteristic names, measured or not. */
export function qifFeatures(report: SetupReport, plan: Plan | null, ids: Ids): readonly QifFeature[] {
  const named = report.characteristics.flatMap(({ of, to }) => [of, to ?? []].flat());
  const names = new Set([...Object.keys(report.features), ...named]);
  return [...names].map((name) => {
    const facts = factsOf(name, report, plan);
    const { shape, aspects } = shapeOf(facts);
    return {
      facts,
      shape,
      aspects,
      definitionId: ids.next(),
      nominalId: ids.next(),
      itemId: ids.next(),
      measurementId: facts.record === null ? null : ids.next(),
    };
  });
}

function factsOf(name: string, report: SetupReport, plan: Plan | null): FeatureFacts {
  const record = ownEntry(report.features, name);
  const planned = plan === null ? null : ownEntry(plan.features, name);
  const sizes = report.characteristics.filter(
    ({ kind, of, nominal }) => kind === "diameter" && of === name && nominal !== null,
  );
  const radius = planned?.radiusMm ?? null;
  return {
    name,
    fit: record?.fit ?? planned?.fit ?? "feature",
    record,
    plan: planned,
    nominalDiameter: sizes[0]?.nominal ?? (radius === null ? null : 2 * radius),
  };
}
const ownEntry = <T>(entries: Readonly<Record<string, T>>, name: string): T | null =>
  Object.hasOwn(entries, name) ? (entries[name] ?? null) : null;

/** Definitions, nominals and items of all features; null when there are none. */
export function featuresElement(features: readonly QifFeature[]): XmlElement | null {
  if (features.length === 0) return null;
  return element("Features", [
    counted("FeatureDefinitions", features.map(definition)),
    counted("FeatureNominals", features.map(nominal)),
    counted("FeatureItems", features.map(item)),
  ]);
}
const aspect = (feature: QifFeature, name: string): string => `${feature.shape.element}Feature${name}`;
const id = (number: number) => ({ id: String(number) });

const definition = (feature: QifFeature): XmlElement =>
  element(aspect(feature, "Definition"), feature.aspects.definition, id(feature.definitionId));

/** The standard has no feature without a nominal; the plan states directions and sizes, and no places. */
const nominal = (feature: QifFeature): XmlElement =>
  element(
    aspect(feature, "Nominal"),
    [
      attributes(
        feature.aspects.nominal.length === 0
          ? []
          : [["nominalPlace", "as measured: the plan states none; not a drawing value"]],
      ),
      element("Name", token(feature.facts.name)),
      element("FeatureDefinitionId", String(feature.definitionId)),
      ...feature.aspects.nominal,
    ],
    id(feature.nominalId),
  );

const item = (feature: QifFeature): XmlElement =>
  element(
    aspect(feature, "Item"),
    [
      element("FeatureNominalId", String(feature.nominalId)),
      element("FeatureName", token(feature.facts.name)),
      element("DeterminationMode", [
        element("Checked", feature.shape.touched ? [element("CheckDetails", [element("Measured")])] : []),
      ]),
    ],
    id(feature.itemId),
  );

/** What was measured of the features, each with the gauge it was measured with where that is known. */
export function measuredFeatures(
  features: readonly QifFeature[],
  devicesOf: (feature: QifFeature) => readonly number[],
): XmlElement | null {
  return counted(
    "MeasuredFeatures",
    features.map((feature) =>
      feature.measurementId === null || feature.facts.record === null
        ? null
        : element(
            aspect(feature, "Measurement"),
            [
              attributes([...unplaced(feature), ...evidence(feature.facts.record)]),
              element("FeatureItemId", String(feature.itemId)),
              element("FeatureName", token(feature.facts.name)),
              references("MeasurementDeviceIds", devicesOf(feature)),
              ...feature.aspects.measurement,
            ],
            id(feature.measurementId),
          ),
    ),
  );
}

/** What is known of the place of a feature whose shape has no element for it. */
const unplaced = ({ facts: { record }, aspects }: QifFeature): readonly Attribute[] =>
  aspects.measurement.length > 0
    ? []
    : [
        ["center", record?.center],
        ["direction", record?.direction],
        ["diameter", record?.diameter],
      ];

const evidence = (record: ReportFeature): readonly Attribute[] => [
  ["fit", record.fit],
  ["state", record.state],
  ["points", record.points],
  ["rms", record.rms],
  ["formLeastSquares", record.zone?.leastSquares],
  ["formMinimumZone", record.zone?.minimum],
  ["formProof", record.zone?.proof],
  ["inscribedDiameter", record.inscribed?.diameter],
  ["circumscribedDiameter", record.circumscribed?.diameter],
  ["sweep", record.sweep?.kind],
  ["fullIndicatorMovement", record.sweep?.fim],
  ["clamping", record.clamping],
  ["bolt", record.bolt],
  ["measuredOn", record.where],
  ["trouble", record.trouble],
  ["asFoundCenter", record.asFound?.center],
  ["asFoundDirection", record.asFound?.direction],
  ["asFoundDiameter", record.asFound?.diameter],
];
