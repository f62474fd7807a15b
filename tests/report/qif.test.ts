// QIF documents (ISO 23952:2020) read back with an XML parser: sound by the published schemas, and saying what the record says.
import type { XmlElement } from "@rgrove/parse-xml";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { characteristicKinds } from "../../src/analysis/characteristics/index.ts";
import { fitKinds } from "../../src/analysis/features/index.ts";
import type { ReportCharacteristic, SetupReport, Verdict } from "../../src/model/setupReport.ts";
import { qifOf } from "../../src/records/qifOf.ts";
import { characteristicForms } from "../../src/report/qif/characteristics/index.ts";
import { decimalText } from "../../src/report/qif/decimalText.ts";
import { featureShapes } from "../../src/report/qif/features/index.ts";
import { nameUuid } from "../../src/report/qif/nameUuid.ts";
import { reportQif } from "../../src/report/qif/reportQif.ts";
import { cases, recordOf, SAMPLES } from "../golden/road.ts";
import { everything, MEASURED, reportOf } from "./qifEverything.ts";
import {
  allNamed,
  childrenOf,
  faultsOf,
  namesOf,
  only,
  readQif,
  textIn,
  valuesOf,
  withId,
} from "./qifReader.ts";

const { plan } = everything;
const full = reportOf(MEASURED);
const fullText = reportQif(full, plan);
const fullRoot = readQif(fullText);
const measurements = (root: XmlElement): XmlElement[] => allNamed(root, "*CharacteristicMeasurement");
const itemOf = (root: XmlElement, measurement: XmlElement): XmlElement =>
  withId(root, textIn(measurement, "CharacteristicItemId"));
/** Measurements by the plan's id of their characteristic. */
const byId = (root: XmlElement): Map<string | null, XmlElement> =>
  new Map(measurements(root).map((one) => [textIn(itemOf(root, one), "Name"), one]));
const fullById = byId(fullRoot);
/** The measurement of a characteristic in the document with everything. */
const ofFull = (id: string): XmlElement => fullById.get(id) ?? fullRoot;
const numbered = (id: string | null): XmlElement => withId(fullRoot, id);
const statusOf = (measurement: XmlElement): string => only(measurement, "CharacteristicStatusEnum").text;

const STATUS = { pass: "PASS", fail: "FAIL", undecided: "INDETERMINATE", missing: "NOT_ANALYZED" } as const;
/** What a measurement must say, from its record. */
const said = (record: ReportCharacteristic) => ({
  status: STATUS[record.verdict],
  value: record.value === null ? null : decimalText(record.value),
  because: record.because.replace(/\r/g, "\n"),
});
const says = (measurement: XmlElement) => ({
  status: statusOf(measurement),
  value: textIn(measurement, "Value"),
  because: textIn(measurement, "Description"),
});

describe("a sound document", () => {
  it.each(cases(SAMPLES))("of %s", async (name) => {
    const report = await recordOf(`${SAMPLES}${name}`);
    const root = readQif(qifOf(report));
    expect(faultsOf(root)).toEqual([]);
    expect(measurements(root)).toHaveLength(report.characteristics.length);
    expect(allNamed(root, "*FeatureMeasurement")).toHaveLength(Object.keys(report.features).length);
    const measured = byId(root);
    for (const record of report.characteristics)
      expect(says(measured.get(record.id) ?? root)).toEqual(said(record));
    expect(only(only(root, "MeasurementResults"), "InspectionStatus").text.trim()).toBe(
      { pass: "PASS", fail: "FAIL", undecided: "UNKNOWN", missing: "NOT_MEASURED" }[report.verdict],
    );
  });

  it("with every fit and every kind of characteristic of every feature", () => {
    expect(faultsOf(fullRoot)).toEqual([]);
    expect(fullById.size).toBe(full.characteristics.length);
    for (const record of full.characteristics) expect(says(ofFull(record.id))).toEqual(said(record));
  });

  it("when nothing was measured: every feature and characteristic is there, without a number", () => {
    const root = readQif(reportQif(reportOf([]), plan));
    expect(faultsOf(root)).toEqual([]);
    expect(measurements(root).map(statusOf)).toEqual(full.characteristics.map(() => "NOT_ANALYZED"));
    expect([
      ...allNamed(root, "Value"),
      ...allNamed(root, "*FeatureMeasurement"),
      ...allNamed(root, "Location"),
    ]).toEqual([]);
    expect(namesOf(root).filter((name) => name.endsWith("FeatureItem"))).toEqual(
      namesOf(root)
        .filter((name) => name.endsWith("FeatureItem"))
        .map(() => "OtherShapeFeatureItem"),
    );
  });

  it("when the plan cannot be read any more, from the record alone", () => {
    const broken = { ...full, plan: { ...full.plan, text: "plinth: 99" } };
    const root = readQif(qifOf(broken));
    expect(faultsOf(root)).toEqual([]);
    expect(measurements(root)).toHaveLength(full.characteristics.length);
  });

  it("of a report without features or characteristics", () => {
    const empty: SetupReport = {
      ...full,
      features: {},
      characteristics: [],
      instruments: [],
      logs: [],
      setup: {},
    };
    const root = readQif(reportQif(empty, plan));
    expect(faultsOf(root)).toEqual([]);
    expect(namesOf(root)).not.toContain("Features");
    expect(namesOf(root)).not.toContain("Characteristics");
  });
});

describe("the reading of documents", () => {
  const spoiled: readonly (readonly [string, (text: string) => string, RegExp])[] = [
    ["an id twice", (text) => text.replace('<Software id="2">', '<Software id="1">'), /one id/],
    ["an idMax too small", (text) => text.replace(/idMax="\d+"/, 'idMax="7"'), /idMax/],
    [
      "a count too large",
      (text) => text.replace(/<FeatureItems n="(\d+)"/, '<FeatureItems n="9$1"'),
      /n is 9/,
    ],
    ["a missing count", (text) => text.replace(/<Attributes n="\d+"/, "<Attributes"), /n is undefined/],
    [
      "elements in another order",
      (text) =>
        text.replace(
          /(<Status>[\s\S]*?<\/Status>\s*)(<CharacteristicItemId>\d+<\/CharacteristicItemId>)/,
          "$2$1",
        ),
      /holds/,
    ],
    [
      "a missing element",
      (text) => text.replace(/<InspectionStatus>[\s\S]*?<\/InspectionStatus>/, ""),
      /holds/,
    ],
    ["an element that is not known", (text) => text.replace("<Header>", "<Other/><Header>"), /not known/],
    [
      "a reference to nothing",
      (text) => text.replace(/<FeatureItemId>\d+</, "<FeatureItemId>99999<"),
      /nothing/,
    ],
    [
      "a reference to the wrong kind",
      (text) => text.replace(/<FormalStandardId>\d+</, "<FormalStandardId>2<"),
      /Software/,
    ],
    ["a status of its own", (text) => text.replace(">INDETERMINATE<", ">UNDECIDED<"), /UNDECIDED/],
    ["a number with an exponent", (text) => text.replace(/(<Value [^>]*>)[^<]*/, "$11e-7"), /1e-7/],
    ["lengths in metres", (text) => text.replace("<Factor>0.001<", "<Factor>1<"), /mm/],
    ["an attribute of its own", (text) => text.replace("<Header>", '<Header lang="en">'), /lang/],
    ["another namespace", (text) => text.replace("xsd/qif3", "xsd/qif2"), /xmlns/],
  ];
  it.each(spoiled)("finds %s", (_, spoil, fault) => {
    const text = spoil(fullText);
    expect(text).not.toBe(fullText);
    expect(faultsOf(readQif(text)).join("\n")).toMatch(fault);
  });
  it("refuses what is not well-formed", () => {
    expect(() => readQif(fullText.replace("</Header>", ""))).toThrow();
    expect(() => readQif(fullText.replace("<Scope>", "<Scope>\u0001"))).toThrow();
  });
});

describe("every fit", () => {
  const ELEMENTS: Readonly<Record<string, string>> = {
    plane: "Plane",
    line: "Line",
    circle: "Circle",
    cylinder: "Cylinder",
    sphere: "Sphere",
    point: "Point",
    axis: "Line",
  };
  it("stands on the shelf of shapes once, and is measured here", () => {
    const fits = featureShapes.flatMap((shape) => shape.fits);
    expect(fits.toSorted()).toEqual(fitKinds.map(({ fit }) => fit).toSorted());
    expect(Object.keys(ELEMENTS).toSorted()).toEqual(fits.toSorted());
    expect(new Set(Object.values(full.features).map(({ fit }) => fit))).toEqual(new Set(fits));
  });
  it.each(Object.entries(full.features))("%s is its own element with what was fitted", (name, record) => {
    const measurement = allNamed(fullRoot, "*FeatureMeasurement").find(
      (one) => textIn(one, "FeatureName") === name,
    );
    if (measurement === undefined) throw new Error(`no ${name}`);
    expect(measurement.name).toBe(`${ELEMENTS[record.fit]}FeatureMeasurement`);
    const place = allNamed(measurement, "Location")[0] ?? only(measurement, "AxisPoint");
    expect(place.text).toBe(record.center?.map(decimalText).join(" "));
    const direction = [...allNamed(measurement, "Normal"), ...allNamed(measurement, "Direction")][0];
    if (direction !== undefined)
      for (const [i, part] of direction.text.split(" ").entries())
        expect(Number(part)).toBeCloseTo(record.direction?.[i] ?? 9, 15);
    expect(textIn(measurement, "Diameter")).toBe(record.diameter ? decimalText(record.diameter) : null);
    expect(textIn(measurement, "Form")).toBe(record.zone ? decimalText(record.zone.minimum) : null);
    expect(valuesOf(measurement, "points")).toEqual([String(record.points)]);
  });
  it("says inside or outside, and the direction and size that the plan states", () => {
    const definition = (name: string): XmlElement => {
      const nominal = allNamed(fullRoot, "*FeatureNominal").find((one) => textIn(one, "Name") === name);
      const number = nominal === undefined ? null : textIn(nominal, "FeatureDefinitionId");
      return (
        allNamed(fullRoot, "*FeatureDefinition").find(({ attributes }) => attributes.id === number) ??
        fullRoot
      );
    };
    expect(textIn(definition("circle-1"), "InternalExternal")).toBe("INTERNAL");
    expect(textIn(definition("circle-2"), "InternalExternal")).toBe("EXTERNAL");
    expect(textIn(definition("sphere-2"), "InternalExternal")).toBe("NOT_APPLICABLE");
    expect(textIn(definition("rim"), "Diameter")).toBe("200");
    const plane = allNamed(fullRoot, "PlaneFeatureNominal").find((one) => textIn(one, "Name") === "plane-1");
    expect(plane === undefined ? null : textIn(plane, "Normal")).toBe("0 0 1");
    expect(plane === undefined ? [] : valuesOf(plane, "nominalPlace")).toHaveLength(1);
  });
  it("keeps the centre of a round whose size nobody knows, without making a size up", () => {
    const { circle } = { circle: full.features["circle-1"] };
    if (circle === undefined) throw new Error("no circle");
    const unsized: SetupReport = {
      ...full,
      features: { "circle-1": { ...circle, diameter: null } },
      characteristics: [],
    };
    const root = readQif(reportQif(unsized, plan));
    expect(faultsOf(root)).toEqual([]);
    expect(namesOf(root)).not.toContain("Diameter");
    expect(valuesOf(only(root, "OtherShapeFeatureMeasurement"), "center")).toEqual([
      circle.center?.map(decimalText).join(" "),
    ]);
  });
});

describe("every kind of characteristic", () => {
  /** Names in the standard; two where the feature, the datum or a missing limit decides. */
  const ELEMENTS: Readonly<Record<string, readonly string[]>> = {
    flatness: ["Flatness", "UserDefinedLinear"],
    straightness: ["Straightness", "UserDefinedLinear"],
    roundness: ["Circularity", "UserDefinedLinear"],
    cylindricity: ["Cylindricity", "UserDefinedLinear"],
    perpendicularity: ["Perpendicularity", "UserDefinedLinear"],
    angularity: ["Angularity", "UserDefinedLinear"],
    parallelism: ["Parallelism", "UserDefinedLinear"],
    angle: ["AngleBetween"],
    tilt: ["UserDefinedLinear"],
    distance: ["DistanceFrom", "LinearCoordinate"],
    diameter: ["Diameter", "SphericalDiameter"],
    offset: ["DistanceFrom", "UserDefinedLinear"],
    position: ["Position", "UserDefinedLinear"],
    coaxiality: ["Coaxiality", "UserDefinedLinear"],
    runout: ["CircularRunout", "UserDefinedLinear"],
    eccentricity: ["UserDefinedLinear"],
    lobing: ["OtherForm", "UserDefinedLinear"],
  };
  it("stands on the shelf of forms once, and is planned here", () => {
    const kinds = characteristicForms.flatMap((form) => form.kinds);
    expect(kinds.toSorted()).toEqual(characteristicKinds.map(({ kind }) => kind).toSorted());
    expect(Object.keys(ELEMENTS).toSorted()).toEqual(kinds.toSorted());
    expect(new Set(full.characteristics.map(({ kind }) => kind))).toEqual(new Set(kinds));
  });
  it.each(characteristicKinds)("$kind is written by the standard's name", ({ kind }) => {
    const names = full.characteristics
      .filter((record) => record.kind === kind)
      .map(({ id }) => fullById.get(id)?.name.replace("CharacteristicMeasurement", ""));
    expect([...new Set(names)].toSorted()).toEqual(ELEMENTS[kind]?.toSorted());
  });
  it("is user-defined only where the standard has no place, and the header says which", () => {
    const header = textIn(only(fullRoot, "Header"), "Description") ?? "";
    for (const record of full.characteristics) {
      const element = fullById.get(record.id)?.name ?? "";
      if (!element.startsWith("UserDefined")) continue;
      expect(header).toContain(record.kind);
      const limited = record.limits.upper !== null || record.limits.lower !== null;
      const foreign = ["tilt", "eccentricity", "offset", "runout"].includes(record.kind);
      expect(limited && !foreign).toBe(false);
    }
  });
  it("keeps the limits of the plan", () => {
    for (const record of full.characteristics) {
      const item = itemOf(fullRoot, ofFull(record.id));
      const nominal = numbered(textIn(item, "CharacteristicNominalId"));
      const definition = numbered(textIn(nominal, "CharacteristicDefinitionId"));
      const [tolerance] = allNamed(definition, "Tolerance");
      const { upper, lower } = record.limits;
      const decimal = (value: number | null) => (value === null ? null : decimalText(value));
      if (tolerance === undefined) expect(textIn(definition, "ToleranceValue")).toBe(decimal(upper));
      else
        expect([textIn(tolerance, "MaxValue"), textIn(tolerance, "MinValue")]).toEqual([
          decimal(upper),
          decimal(lower),
        ]);
      if (upper === null && lower === null) expect(textIn(definition, "NonTolerance")).toBe("MEASURED");
    }
  });
  it("names its datum by the feature, and the axis a distance counts along", () => {
    const item = itemOf(fullRoot, ofFull("perpendicularity-0"));
    const definition = numbered(
      textIn(numbered(textIn(item, "CharacteristicNominalId")), "CharacteristicDefinitionId"),
    );
    const frame = numbered(textIn(definition, "DatumReferenceFrameId"));
    const datum = numbered(only(frame, "DatumDefinitionId").text);
    const to = full.characteristics.find(({ id }) => id === "perpendicularity-0")?.to;
    expect(textIn(datum, "DatumLabel")).toBe(to);
    expect(textIn(numbered(only(datum, "Id").text), "Name")).toBe(to);
    const vectors = allNamed(fullRoot, "DistanceFromCharacteristicNominal").map((one) => [
      textIn(one, "AnalysisMode"),
      textIn(one, "AnalysisVector") !== null,
    ]);
    expect(new Set(vectors.map(String))).toEqual(new Set(["ONEDIMENSIONAL,true", "THREEDIMENSIONAL,false"]));
  });
  it("has a zone of the shape that holds the feature", () => {
    const shape = (kind: string, of: string, to: string | null): (string | undefined)[] =>
      full.characteristics
        .filter((one) => one.kind === kind && one.of === of && one.to === to && one.limits.upper !== null)
        .map((one) => {
          const nominal = numbered(textIn(itemOf(fullRoot, ofFull(one.id)), "CharacteristicNominalId"));
          const definition = numbered(textIn(nominal, "CharacteristicDefinitionId"));
          return childrenOf(only(definition, "ZoneShape"))[0]?.name;
        });
    expect(shape("perpendicularity", "plane-1", "plane-2")).toEqual(["PlanarZone"]);
    expect(shape("perpendicularity", "cylinder-1", "plane-2")).toEqual(["DiametricalZone"]);
    expect(shape("parallelism", "axis-1", "axis-2")).toEqual(["DiametricalZone"]);
    expect(shape("parallelism", "axis-1", "plane-2")).toEqual(["PlanarZone"]);
    expect(shape("position", "circle-1", null)).toEqual([
      "DiametricalZone",
      "DiametricalZone",
      "NonDiametricalZone",
    ]);
    expect(shape("position", "point-1", null)).toEqual([
      "DiametricalZone",
      "SphericalZone",
      "NonDiametricalZone",
    ]);
    expect(textIn(only(fullRoot, "AngularityCharacteristicNominal"), "Angle")).toBe("10");
  });
});

describe("verdicts and values", () => {
  const first = full.characteristics.find(({ kind }) => kind === "flatness");
  if (first === undefined) throw new Error("no flatness");
  const one = (record: ReportCharacteristic, verdict: Verdict = record.verdict) =>
    readQif(reportQif({ ...full, verdict, characteristics: [record] }, plan));

  it.each([
    ["pass", "PASS", "PASS"],
    ["fail", "FAIL", "FAIL"],
    ["undecided", "INDETERMINATE", "UNKNOWN"],
    ["missing", "NOT_ANALYZED", "NOT_MEASURED"],
  ] as const)("%s is %s, and of the whole %s", (verdict, status, inspection) => {
    const root = one({ ...first, verdict });
    expect(faultsOf(root)).toEqual([]);
    expect(statusOf(only(root, "FlatnessCharacteristicMeasurement"))).toBe(status);
    expect(allNamed(root, "InspectionStatusEnum").map(({ text }) => text)).toEqual([inspection, inspection]);
  });
  it("gives the value as the same double, its standard uncertainty, and the expanded one with its factor", () => {
    const record = { ...first, value: 0.1 + 0.2, uncertainty: 0.0012, coverage: 2.5, asFound: 0.0375 };
    const measurement = only(one(record), "FlatnessCharacteristicMeasurement");
    const value = only(measurement, "Value");
    expect(Number(value.text)).toBe(0.1 + 0.2);
    expect(Number(value.attributes.combinedUncertainty)).toBe(0.0012 / 2.5);
    expect(value.attributes.meanError).toBe("0");
    expect(valuesOf(measurement, "expandedUncertainty")).toEqual(["0.0012"]);
    expect(valuesOf(measurement, "coverageFactor")).toEqual(["2.5"]);
    expect(valuesOf(measurement, "asFound")).toEqual(["0.0375"]);
  });
  it.each([
    ["no value", { value: null, uncertainty: null, coverage: null }],
    ["no uncertainty", { uncertainty: null, coverage: null }],
    ["no number", { value: Number.NaN, uncertainty: Number.NaN, coverage: 0 }],
  ])("leaves out what is not known: %s", (_, unknown) => {
    const root = one({ ...first, ...unknown });
    expect(faultsOf(root)).toEqual([]);
    const [value] = allNamed(root, "Value");
    expect(value?.attributes.combinedUncertainty).toBeUndefined();
    expect(value?.attributes.meanError).toBeUndefined();
    if ("value" in unknown) expect(value).toBeUndefined();
  });
  it("names the gauge of each result with its calibration, and none where it is not known", () => {
    const gauge = (id: string): (string | null)[] => {
      const ids = allNamed(ofFull(id), "MeasurementDeviceIds").flatMap(childrenOf);
      return ids.map((reference) => {
        const device = allNamed(fullRoot, "MeasurementDevice").find(
          ({ attributes }) => attributes.id === reference.text,
        );
        return device === undefined ? null : textIn(device, "Name");
      });
    };
    expect(
      allNamed(fullRoot, "MeasurementDevice")
        .map((device) => textIn(device, "Name"))
        .toSorted(),
    ).toEqual(full.instruments.map(({ name }) => name).toSorted());
    expect(gauge("flatness-0")).toEqual(["probe"]);
    expect(only(fullRoot, "ExpirationDate").text).toBe("2027-03-01T23:59:59");
    const twoLogs = { ...full, logs: full.logs.map((log) => ({ ...log, header: { instrument: "lever" } })) };
    expect(allNamed(readQif(reportQif(twoLogs, plan)), "MeasurementDeviceIds")).toEqual([]);
  });
  it("leaves dates out that are none", () => {
    const root = readQif(
      reportQif(
        {
          ...full,
          report: { ...full.report, issued: "yesterday" },
          instruments: full.instruments.map((gauge) => ({ ...gauge, calibrationDue: "2027-02-30" })),
        },
        plan,
      ),
    );
    expect(faultsOf(root)).toEqual([]);
    expect(namesOf(root).filter((name) => /Date|TimeCreated/.test(name))).toEqual([]);
  });
  it("carries the serial number, the operator, the sign-offs and the logs by hash", () => {
    const signed: SetupReport = {
      ...full,
      signOffs: [
        {
          id: "torque",
          ask: "?",
          value: 92,
          unit: "N·m",
          by: "A",
          time: null,
          verdict: "pass",
          because: "inside",
          limits: { lower: null, upper: 95 },
        },
      ],
    };
    const root = readQif(reportQif(signed, plan));
    expect(faultsOf(root)).toEqual([]);
    expect(only(root, "SerialNumber").text).toBe("S-17");
    expect(textIn(only(root, "InspectionOperator"), "Name")).toBe("second shift");
    expect(valuesOf(only(root, "MeasurementResults"), "sign-off torque")).toEqual([
      "pass: 92 N·m by A (inside)",
    ]);
    expect(
      allNamed(root, "ExternalFileReference")
        .map((file) => textIn(file, "Description"))
        .join(),
    ).toContain("1".repeat(64));
  });
});

describe("numbers as decimals", () => {
  it.each([
    [0, "0"],
    [-0, "0"],
    [1e-7, "0.0000001"],
    [-2.5e-10, "-0.00000000025"],
    [1e21, "1000000000000000000000"],
    [1.5e22, "15000000000000000000000"],
    [123.456, "123.456"],
    [-390.1949222222222, "-390.1949222222222"],
    [3.469446951953614e-18, "0.000000000000000003469447"],
    [-1e-300, "0"],
  ])("%d is %s", (value, text) => {
    expect(decimalText(value)).toBe(text);
  });
  it("read back as the same double, and have no exponent", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const text = decimalText(value);
        expect(text).toMatch(/^-?\d+(\.\d{1,24})?$/);
        if (Math.abs(value) >= 1e-7) expect(Number(text)).toBe(value);
        else expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(1e-24);
      }),
      { numRuns: 2000 },
    );
  });
  it("are none where there is no number", () => {
    expect(() => decimalText(Number.NaN)).toThrow(RangeError);
    expect(() => decimalText(Number.POSITIVE_INFINITY)).toThrow(RangeError);
  });
});

describe("names of documents", () => {
  it("follow RFC 9562: its own example, and version and variant of ours", () => {
    // RFC 9562, appendix A.4: www.example.com in the namespace of domain names.
    expect(nameUuid("www.example.com", "6ba7b810-9dad-11d1-80b4-00c04fd430c8")).toBe(
      "2ed6657d-e927-568b-95e1-2665a8aea6a2",
    );
    expect(nameUuid("")).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  });
  it("stay the same for the same report, bytes and all, and change with anything in it", () => {
    expect(reportQif(reportOf(MEASURED), plan)).toBe(fullText);
    const id = (report: SetupReport): string | null => textIn(readQif(reportQif(report, plan)), "QPId");
    const next = { ...full, report: { ...full.report, revision: 2 } };
    expect(id(next)).not.toBe(id(full));
    expect(id({ ...full, language: "de" })).not.toBe(id(full));
  });
  it("of a characteristic stay the same from revision to revision, and differ from one another", () => {
    const uuids = (root: XmlElement) => allNamed(root, "UUID").map(({ text }) => text);
    const next = readQif(
      reportQif({ ...full, report: { ...full.report, revision: 2, issued: "2027-01-01T00:00:00Z" } }, plan),
    );
    expect(uuids(next)).toEqual(uuids(fullRoot));
    expect(new Set(uuids(fullRoot)).size).toBe(full.characteristics.length);
  });
});

describe("texts from outside", () => {
  /** Words that our own pipeline chooses, and times, which have their own test. */
  const OWN = [
    "schema",
    "verdict",
    "rule",
    "kind",
    "where",
    "state",
    "fit",
    "level",
    "issued",
    "calibrationDue",
    "unit",
    "proof",
    "language",
  ];
  /** The record with every text and every name put behind an attack, so that names still meet. */
  function attacked(value: unknown, attack: string, key = ""): unknown {
    if (typeof value === "string") return OWN.includes(key) ? value : attack + value;
    if (Array.isArray(value)) return value.map((one) => attacked(one, attack, key));
    if (typeof value !== "object" || value === null) return value;
    const named = ["features", "setup", "header"].includes(key);
    return Object.fromEntries(
      Object.entries(value).map(([name, one]) => [
        named && !["serial", "operator"].includes(name) ? attack + name : name,
        attacked(one, attack, name),
      ]),
    );
  }
  const some = full.characteristics.filter(({ id }) => /-[0-3]$/.test(id));
  const attack = (text: string): SetupReport =>
    attacked({ ...full, characteristics: some, wording: {} }, text) as SetupReport;
  const benign = namesOf(readQif(reportQif(attack("x"), null)));
  it.each([
    ["markup", "<Status>\"&'</Status>]]><!--<?x?>", "<Status>\"&'</Status>]]><!--<?x?>"],
    ["entities", "&amp;&#60;&lol;<!DOCTYPE x>", "&amp;&#60;&lol;<!DOCTYPE x>"],
    ["emoji and a family of them", "😀👩‍👩‍👧", "😀👩‍👩‍👧"],
    ["marks that turn the direction", "\u202eabc\u200f\u2067", "\u202eabc\u200f\u2067"],
    ["control characters", "a\u0000\u0007b\u001b\u009fc", "a b c"],
    ["half characters and no characters", "a\ud800b\ufffe\uffff", "a\ufffdb\ufffd\ufffd"],
    ["five thousand letters", "m".repeat(5000), "m".repeat(5000)],
    ["line ends and tabs", "a\r\nb\tc", "a b c"],
    ["names of the language itself", "__proto__", "__proto__"],
  ])("%s stays text", (_, text, shown) => {
    const report = attack(text);
    const document = reportQif(report, null);
    const root = readQif(document);
    expect(faultsOf(root)).toEqual([]);
    expect(namesOf(root)).toEqual(benign);
    expect(document).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\ufffe\uffff]|\p{Cs}/u);
    const names = allNamed(root, "*FeatureItem").map((item) => textIn(item, "FeatureName"));
    expect(names).toEqual(Object.keys(full.features).map((name) => shown + name));
  });
  it("keeps the datums of names apart that a label cannot tell apart", () => {
    const names = ["ä", "ö", "-", "ü".repeat(200)];
    const [plane] = Object.values(full.features).filter(({ fit }) => fit === "plane");
    const square = full.characteristics.find(({ kind }) => kind === "perpendicularity");
    if (plane === undefined || square === undefined) throw new Error("no plane");
    const report: SetupReport = {
      ...full,
      features: Object.fromEntries(names.map((name) => [name, plane])),
      characteristics: names.map((name, i) => ({
        ...square,
        id: `square-${i}`,
        of: names[0] ?? "",
        to: name,
      })),
    };
    const root = readQif(reportQif(report, null));
    expect(faultsOf(root)).toEqual([]);
    const labels = allNamed(root, "DatumLabel").map(({ text }) => text);
    expect(new Set(labels).size).toBe(names.length);
  });
});
