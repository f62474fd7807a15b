import type { Plan } from "../../model/plan/plan.ts";
import type { ReportCharacteristic, SetupReport, Verdict } from "../../model/setupReport.ts";
import { type Attribute, attributes, references } from "./attributes.ts";
import type { CharacteristicForm } from "./characteristics/contract.ts";
import { formOf } from "./characteristics/index.ts";
import type { Datums } from "./datums.ts";
import type { Ids } from "./ids.ts";
import { nameUuid } from "./nameUuid.ts";
import type { QifFeature } from "./qifFeatures.ts";
import { measured } from "./value.ts";
import { counted, element, token, type XmlElement } from "./xml.ts";

/** A characteristic with the numbers of its four aspects. */
export interface QifCharacteristic {
  readonly record: ReportCharacteristic;
  readonly form: CharacteristicForm;
  readonly uuid: string;
  readonly definitionId: number;
  readonly nominalId: number;
  readonly itemId: number;
  readonly measurementId: number;
  readonly devices: readonly number[];
}
export interface CharacteristicSetting {
  readonly plan: Plan | null;
  readonly features: readonly QifFeature[];
  readonly datums: Datums;
  readonly ids: Ids;
  devicesOf(feature: QifFeature): readonly number[];
}

export function qifCharacteristics(
  report: SetupReport,
  { plan, features, datums, ids, devicesOf }: CharacteristicSetting,
): readonly QifCharacteristic[] {
  const byName = new Map(features.map((feature) => [feature.facts.name, feature]));
  const feature = (name: string): QifFeature | null => byName.get(name) ?? null;
  return report.characteristics.map((record) => {
    const planned = plan?.characteristics.find(({ id, kind }) => id === record.id && kind === record.kind);
    const form = formOf({
      record,
      inputs: planned?.inputs ?? {},
      of: [record.of].flat().flatMap((name) => feature(name) ?? []),
      to: record.to === null ? null : feature(record.to),
      feature,
      frameOf: datums.frameOf,
    });
    return {
      record,
      form,
      // The same for every revision of a setup's report, so that a value can be followed.
      uuid: nameUuid(`characteristic ${JSON.stringify([report.report.id, record.id])}`),
      definitionId: ids.next(),
      nominalId: ids.next(),
      itemId: ids.next(),
      measurementId: ids.next(),
      devices: [...new Set(form.features.flatMap(devicesOf))],
    };
  });
}

/** Definitions, nominals and items of all characteristics; null when there are none. */
export function characteristicsElement(
  characteristics: readonly QifCharacteristic[],
  standardId: number,
): XmlElement | null {
  if (characteristics.length === 0) return null;
  return element("Characteristics", [
    element("FormalStandardId", String(standardId)),
    counted("CharacteristicDefinitions", characteristics.map(definition)),
    counted("CharacteristicNominals", characteristics.map(nominal)),
    counted("CharacteristicItems", characteristics.map(item)),
  ]);
}
const aspect = ({ form }: QifCharacteristic, name: string): string => `${form.element}Characteristic${name}`;
const id = (number: number) => ({ id: String(number) });

const definition = (characteristic: QifCharacteristic): XmlElement =>
  element(
    aspect(characteristic, "Definition"),
    characteristic.form.definition,
    id(characteristic.definitionId),
  );

const nominal = (characteristic: QifCharacteristic): XmlElement =>
  element(
    aspect(characteristic, "Nominal"),
    [
      element("CharacteristicDefinitionId", String(characteristic.definitionId)),
      references(
        "FeatureNominalIds",
        characteristic.form.features.map(({ nominalId }) => nominalId),
      ),
      element("Name", token(characteristic.record.id)),
      ...(characteristic.form.nominal ?? []),
    ],
    id(characteristic.nominalId),
  );

const item = (characteristic: QifCharacteristic): XmlElement =>
  element(
    aspect(characteristic, "Item"),
    [
      attributes([["kind", characteristic.record.kind]]),
      element("Description", characteristic.record.method),
      element("Name", token(characteristic.record.id)),
      element("CharacteristicDesignator", [
        element("Designator", token(characteristic.record.id)),
        element("UUID", characteristic.uuid),
      ]),
      references(
        "FeatureItemIds",
        characteristic.form.features.map(({ itemId }) => itemId),
      ),
      references("MeasurementDeviceIds", characteristic.devices),
      element("CharacteristicNominalId", String(characteristic.nominalId)),
    ],
    id(characteristic.itemId),
  );

/** Each verdict as a status; what was not measured was not analysed, and is no failure. */
export const CHARACTERISTIC_STATUS: Readonly<Record<Verdict, string>> = {
  pass: "PASS",
  fail: "FAIL",
  undecided: "INDETERMINATE",
  missing: "NOT_ANALYZED",
};

export function measuredCharacteristics(characteristics: readonly QifCharacteristic[]): XmlElement | null {
  const measurements = counted("CharacteristicMeasurements", characteristics.map(measurement));
  return measurements === null ? null : element("MeasuredCharacteristics", [measurements]);
}

function measurement(characteristic: QifCharacteristic): XmlElement {
  const { record, form } = characteristic;
  const there = form.features.flatMap(({ measurementId }) => measurementId ?? []);
  return element(
    aspect(characteristic, "Measurement"),
    [
      attributes(evidence(record)),
      element("Description", record.because),
      element("Status", [element("CharacteristicStatusEnum", CHARACTERISTIC_STATUS[record.verdict])]),
      element("CharacteristicItemId", String(characteristic.itemId)),
      references("FeatureMeasurementIds", there),
      form.algorithm === undefined
        ? null
        : element("SubstituteFeatureAlgorithm", [element("SubstituteFeatureAlgorithmEnum", form.algorithm)]),
      references("MeasurementDeviceIds", characteristic.devices),
      ...(form.measurement ?? []),
      measured("Value", record.value, record),
    ],
    id(characteristic.measurementId),
  );
}

const evidence = (record: ReportCharacteristic): readonly Attribute[] => [
  ["verdict", record.verdict],
  ["points", record.points],
  ["state", record.state],
  ["expandedUncertainty", record.uncertainty],
  ["coverageFactor", record.coverage],
  ["conformanceProbability", record.conformance],
  ["asFound", record.asFound],
  ...record.remarks.map((remark): Attribute => ["remark", remark]),
  ...record.toDecide.map((way): Attribute => ["toDecide", way]),
];
