// What ISO 23952:2020 (QIF 3.0) says of the elements that our documents hold, taken down from the published schema files
// QIFDocument.xsd, QIFResults.xsd, Features.xsd, Characteristics.xsd, IntermediatesPMI.xsd, Primitives.xsd, PrimitivesPMI.xsd,
// QIFMeasurementResources.xsd, Traceability.xsd and Units.xsd, version 3.0.0 of the Dimensional Metrology Standards Consortium.
// Optional elements that we never write are left out, so that one we begin to write must be looked up first.

/** Children in their order: `A` once, `A?` at most once, `A*` any number, `A+` at least once, `A|B` one of them. */
const CONTENT: Readonly<Record<string, string>> = {
  QIFDocument:
    "QPId Version? Header? StandardsDefinitions? SoftwareDefinitions? FileUnits? DatumDefinitions? DatumReferenceFrames? MeasurementResources? Features? Characteristics? Results?",
  Header: "Application? Description? Scope?",
  Application: "Name",
  StandardsDefinitions: "Standard+",
  Standard: "Organization Designator Year?",
  Organization: "StandardsOrganizationEnum|OtherStandardsOrganization",
  SoftwareDefinitions: "Software+",
  Software: "Attributes? VendorName ApplicationName Version?",
  FileUnits: "PrimaryUnits",
  PrimaryUnits: "AngularUnit? LinearUnit?",
  AngularUnit: "SIUnitName? UnitName UnitConversion?",
  LinearUnit: "SIUnitName? UnitName UnitConversion?",
  UnitConversion: "Factor Offset?",
  DatumDefinitions: "DatumDefinition+",
  DatumDefinition: "Attributes? DatumLabel FeatureNominalIds?",
  DatumReferenceFrames: "DatumReferenceFrame+",
  DatumReferenceFrame: "Attributes? Datums?",
  Datums: "Datum+",
  Datum: "SimpleDatum Precedence",
  SimpleDatum: "DatumDefinitionId MaterialModifier ReferencedComponent",
  Precedence: "PrecedenceEnum|OtherPrecedence",
  MeasurementResources: "MeasurementDevices?",
  MeasurementDevices: "MeasurementDevice+",
  MeasurementDevice: "Name Attributes? Calibrations?",
  Calibrations: "Calibration+",
  Calibration: "ExpirationDate",
  Attributes: "(AttributeStr|AttributeD1|AttributeD3)+",

  Features: "FeatureDefinitions? FeatureNominals? FeatureItems?",
  FeatureDefinitions: "FeatureDefinition+",
  FeatureNominals: "FeatureNominal+",
  FeatureItems: "FeatureItem+",
  PlaneFeatureDefinition: "Attributes?",
  LineFeatureDefinition: "Attributes?",
  PointFeatureDefinition: "Attributes?",
  CircleFeatureDefinition: "Attributes? InternalExternal Diameter",
  CylinderFeatureDefinition: "Attributes? InternalExternal Diameter Length?",
  SphereFeatureDefinition: "Attributes? InternalExternal Diameter",
  OtherShapeFeatureDefinition: "Attributes? Description",
  PlaneFeatureNominal: "Attributes? Name? FeatureDefinitionId Location Normal",
  LineFeatureNominal: "Attributes? Name? FeatureDefinitionId Location Direction",
  PointFeatureNominal: "Attributes? Name? FeatureDefinitionId Location",
  CircleFeatureNominal: "Attributes? Name? FeatureDefinitionId Location Normal",
  CylinderFeatureNominal: "Attributes? Name? FeatureDefinitionId Axis",
  SphereFeatureNominal: "Attributes? Name? FeatureDefinitionId Location",
  OtherShapeFeatureNominal: "Attributes? Name? FeatureDefinitionId",
  "*FeatureItem": "Attributes? FeatureNominalId FeatureName DeterminationMode",
  DeterminationMode: "Checked|Set",
  Checked: "CheckDetails?",
  CheckDetails: "Measured",
  Measured: "",
  Axis: "AxisPoint Direction",
  MeasuredFeatures: "FeatureMeasurement+",
  PlaneFeatureMeasurement:
    "Attributes? FeatureItemId? FeatureName? MeasurementDeviceIds? SubstituteFeatureAlgorithm? Location? Normal? Form?",
  LineFeatureMeasurement:
    "Attributes? FeatureItemId? FeatureName? MeasurementDeviceIds? SubstituteFeatureAlgorithm? Location? Direction? Form?",
  PointFeatureMeasurement:
    "Attributes? FeatureItemId? FeatureName? MeasurementDeviceIds? SubstituteFeatureAlgorithm? Location? Normal?",
  CircleFeatureMeasurement:
    "Attributes? FeatureItemId? FeatureName? MeasurementDeviceIds? SubstituteFeatureAlgorithm? Location? Normal? Diameter? Form?",
  CylinderFeatureMeasurement:
    "Attributes? FeatureItemId? FeatureName? MeasurementDeviceIds? SubstituteFeatureAlgorithm? Axis? Diameter? Form?",
  SphereFeatureMeasurement:
    "Attributes? FeatureItemId? FeatureName? MeasurementDeviceIds? SubstituteFeatureAlgorithm? Location? Diameter? Form?",
  OtherShapeFeatureMeasurement:
    "Attributes? FeatureItemId? FeatureName? MeasurementDeviceIds? SubstituteFeatureAlgorithm?",
  SubstituteFeatureAlgorithm: "SubstituteFeatureAlgorithmEnum|OtherSubstituteFeatureAlgorithm",

  Characteristics: "FormalStandardId CharacteristicDefinitions CharacteristicNominals CharacteristicItems?",
  CharacteristicDefinitions: "CharacteristicDefinition+",
  CharacteristicNominals: "CharacteristicNominal+",
  CharacteristicItems: "CharacteristicItem+",
  FlatnessCharacteristicDefinition: "ToleranceValue",
  CircularityCharacteristicDefinition: "ToleranceValue",
  CylindricityCharacteristicDefinition: "ToleranceValue",
  OtherFormCharacteristicDefinition: "ToleranceValue",
  CircularRunoutCharacteristicDefinition: "ToleranceValue DatumReferenceFrameId?",
  StraightnessCharacteristicDefinition: "ToleranceValue ZoneShape",
  PerpendicularityCharacteristicDefinition:
    "ToleranceValue DatumReferenceFrameId? MaterialCondition ZoneShape",
  ParallelismCharacteristicDefinition: "ToleranceValue DatumReferenceFrameId? MaterialCondition ZoneShape",
  AngularityCharacteristicDefinition: "ToleranceValue DatumReferenceFrameId? MaterialCondition ZoneShape",
  PositionCharacteristicDefinition: "ToleranceValue DatumReferenceFrameId? MaterialCondition ZoneShape",
  CoaxialityCharacteristicDefinition: "ToleranceValue DatumReferenceFrameId? ZoneShape",
  ZoneShape: "DiametricalZone|NonDiametricalZone|PlanarZone|SphericalZone",
  DiametricalZone: "",
  NonDiametricalZone: "",
  PlanarZone: "",
  SphericalZone: "",
  DiameterCharacteristicDefinition: "DimensionModifiers? Tolerance|NonTolerance",
  SphericalDiameterCharacteristicDefinition: "DimensionModifiers? Tolerance|NonTolerance",
  DimensionModifiers: "DeterminationModifier?",
  DistanceFromCharacteristicDefinition: "Tolerance|NonTolerance",
  LinearCoordinateCharacteristicDefinition: "Tolerance|NonTolerance",
  AngleBetweenCharacteristicDefinition: "Tolerance|NonTolerance",
  UserDefinedLinearCharacteristicDefinition: "Tolerance|NonTolerance WhatToMeasure",
  UserDefinedAngularCharacteristicDefinition: "Tolerance|NonTolerance WhatToMeasure",
  Tolerance: "MaxValue? MinValue? DefinedAsLimit",
  AngularityCharacteristicNominal: "CharacteristicDefinitionId FeatureNominalIds? Name? Angle?",
  DiameterCharacteristicNominal: "CharacteristicDefinitionId FeatureNominalIds? Name? TargetValue?",
  SphericalDiameterCharacteristicNominal: "CharacteristicDefinitionId FeatureNominalIds? Name? TargetValue?",
  DistanceFromCharacteristicNominal:
    "CharacteristicDefinitionId FeatureNominalIds? Name? TargetValue? OriginReference? AnalysisVector? AnalysisMode",
  OriginReference: "FeatureNominalId ReferencedComponent",
  LinearCoordinateCharacteristicNominal:
    "CharacteristicDefinitionId FeatureNominalIds? Name? TargetValue? Direction",
  AngleBetweenCharacteristicNominal:
    "CharacteristicDefinitionId FeatureNominalIds? Name? TargetValue? AnalysisVector? AnalysisMode",
  UserDefinedLinearCharacteristicNominal: "CharacteristicDefinitionId FeatureNominalIds? Name? TargetValue?",
  UserDefinedAngularCharacteristicNominal: "CharacteristicDefinitionId FeatureNominalIds? Name? TargetValue?",
  "*CharacteristicNominal": "CharacteristicDefinitionId FeatureNominalIds? Name?",
  "*CharacteristicItem":
    "Attributes? Description? Name? CharacteristicDesignator? FeatureItemIds? MeasurementDeviceIds? CharacteristicNominalId",
  CharacteristicDesignator: "Designator UUID?",
  MeasuredCharacteristics: "CharacteristicMeasurements",
  CharacteristicMeasurements: "CharacteristicMeasurement+",
  LinearCoordinateCharacteristicMeasurement:
    "Attributes? Description? Status CharacteristicItemId FeatureMeasurementIds? SubstituteFeatureAlgorithm? MeasurementDeviceIds? TypeOfCoordinates Value?",
  "*CharacteristicMeasurement":
    "Attributes? Description? Status CharacteristicItemId FeatureMeasurementIds? SubstituteFeatureAlgorithm? MeasurementDeviceIds? Value?",
  TypeOfCoordinates: "CoordinateEnum|OtherCoordinate",

  Results: "MeasurementResultsSet ActualComponentSets?",
  MeasurementResultsSet: "MeasurementResults+",
  MeasurementResults:
    "Attributes? InspectionTraceability? ThisResultsInstanceQPId? ExternalFileReferences? MeasuredFeatures? MeasuredCharacteristics? InspectionStatus ActualComponentIds?",
  InspectionTraceability:
    "ReportNumber? InspectionSoftwareItems? InspectionOperator? ReportPreparationDate? Errors? Attributes?",
  InspectionSoftwareItems: "AnalysisSoftware?",
  InspectionOperator: "Name",
  Errors: "Error+",
  ExternalFileReferences: "ExternalFileReference+",
  ExternalFileReference: "URI FileSpec Description",
  FileSpec: "CommonFileSpecEnum|OtherFileSpec",
  InspectionStatus: "InspectionStatusEnum|OtherInspectionStatus",
  ActualComponentSets: "ActualComponentSet+",
  ActualComponentSet: "ActualComponent+",
  ActualComponent: "SerialNumber? Status",
};
const REFERENCE_LISTS = [
  "FeatureItemIds",
  "FeatureNominalIds",
  "FeatureMeasurementIds",
  "MeasurementDeviceIds",
  "AnalysisSoftware",
  "ActualComponentIds",
];

/** Lists of the schema, which count their children in `n`. */
export const COUNTED: readonly string[] = [
  ...Object.entries(CONTENT)
    .filter(([, content]) => content.endsWith("+"))
    .map(([name]) => name),
  ...REFERENCE_LISTS,
];

/** The content of an element as it must be; null for one that holds text, or that the schema does not have here. */
export function contentOf(name: string, parent: string): string | null {
  if (REFERENCE_LISTS.includes(name)) return "Id+";
  if (name === "Status")
    return parent === "ActualComponent" ? "InspectionStatusEnum" : "CharacteristicStatusEnum";
  if (name === "Version") return parent === "QIFDocument" ? "TimeCreated?" : null;
  const family = /(?:Feature|Characteristic)(?:Nominal|Item|Measurement)$/.exec(name)?.[0];
  return CONTENT[name] ?? (family === undefined ? undefined : CONTENT[`*${family}`]) ?? null;
}

const DECIMAL = "-?\\d+(?:\\.\\d+)?";
const NATURAL = "[1-9]\\d*";
const TRIPLE = `${DECIMAL} ${DECIMAL} ${DECIMAL}`;
const TOKEN = "(?:[^ \\t\\r\\n]+(?: [^ \\t\\r\\n]+)*)?";
const DATE_TIME = "\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d:\\d\\d(?:\\.\\d+)?(?:Z|[+-]\\d\\d:\\d\\d)?";
const UUID = "[0-9a-fA-F]{8}(?:-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}";
const ANY = "[^]*";
const STATUS = "PASS|FAIL|REWORK|SYSERROR";

/** What the text of each element may be. */
const TEXTS: Readonly<Record<string, string>> = {
  QPId: UUID,
  UUID,
  ThisResultsInstanceQPId: UUID,
  TimeCreated: DATE_TIME,
  ReportPreparationDate: DATE_TIME,
  ExpirationDate: DATE_TIME,
  Name: TOKEN,
  FeatureName: TOKEN,
  Designator: TOKEN,
  VendorName: TOKEN,
  ApplicationName: TOKEN,
  Version: TOKEN,
  SIUnitName: TOKEN,
  UnitName: TOKEN,
  DatumLabel: "[A-Za-z0-9._-]+",
  Description: ANY,
  Scope: ANY,
  WhatToMeasure: ANY,
  ReportNumber: ANY,
  SerialNumber: ANY,
  OtherFileSpec: ANY,
  Error: ANY,
  Year: ANY,
  URI: "[A-Za-z0-9_.!~*'()%-]+",
  Factor: DECIMAL,
  Diameter: DECIMAL,
  Form: DECIMAL,
  Value: DECIMAL,
  MaxValue: DECIMAL,
  MinValue: DECIMAL,
  TargetValue: DECIMAL,
  ToleranceValue: DECIMAL,
  Angle: DECIMAL,
  Location: TRIPLE,
  AxisPoint: TRIPLE,
  Normal: TRIPLE,
  AnalysisVector: TRIPLE,
  Direction: `${TRIPLE}|[XYZ]AXIS|RADIAL`,
  DefinedAsLimit: "true|false",
  NonTolerance: "MEASURED|SET",
  InternalExternal: "INTERNAL|EXTERNAL|NOT_APPLICABLE",
  MaterialCondition: "REGARDLESS|LEAST|MAXIMUM|LEAST_RPR|MAXIMUM_RPR|NONE",
  MaterialModifier: "REGARDLESS|LEAST|MAXIMUM|LEAST_RPR|MAXIMUM_RPR|NONE",
  ReferencedComponent: "NOMINAL|ACTUAL",
  PrecedenceEnum: "PRIMARY|SECONDARY|TERTIARY|QUATERNARY|QUINARY|SENARY",
  DeterminationModifier: "LP|LS|GG|GX|GN|GC|CC|CA|CV",
  AnalysisMode: "ONEDIMENSIONAL|TWODIMENSIONAL|THREEDIMENSIONAL",
  CoordinateEnum: "CARTESIAN_2D|POLAR_2D|CARTESIAN_3D|CYLINDRICAL_3D|SPHERICAL_3D|UNDEFINED",
  StandardsOrganizationEnum: "ISO|ASME|ANSI|BSI|DIN|JIS",
  SubstituteFeatureAlgorithmEnum:
    "DEFAULT|LEASTSQUARES|MAXINSCRIBED|MINCIRCUMSCRIBED|MINMAX|ONESIDED|UNDEFINED",
  CharacteristicStatusEnum: `${STATUS}|INDETERMINATE|NOT_ANALYZED|BASIC_OR_TED|UNDEFINED`,
  InspectionStatusEnum: `${STATUS}|UNKNOWN|NOT_CALCULATED|NOT_MEASURED|UNDEFINED`,
  AttributeStr: "",
  AttributeD1: "",
  AttributeD3: "",
  Id: NATURAL,
};
/** The pattern of an element's text; a reference is a number above zero; null when the schema has no such element. */
export const textOf = (name: string): string | null =>
  TEXTS[name] ?? (/[a-z]Id$/.test(name) ? NATURAL : null);

/** Attributes of elements that have any beside `id` and `n`, each with the pattern of its value. */
export const ATTRIBUTES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  QIFDocument: { xmlns: "http://qifstandards\\.org/xsd/qif3", versionQIF: "3\\.0\\.0", idMax: NATURAL },
  Value: { combinedUncertainty: "\\d+(?:\\.\\d+)?", meanError: "\\d+(?:\\.\\d+)?" },
  AttributeStr: { name: ANY, value: ANY },
  AttributeD1: { name: ANY, value: DECIMAL },
  AttributeD3: { name: ANY, value: TRIPLE },
};

/** What a reference must point to: the name of the element that bears the number. `=` stands for the kind of the one that refers. */
export function targetOf(reference: string, parent: string): string | null {
  const inItem = /(Feature|Characteristic)(?:Item|Nominal|Measurement)$/.test(parent);
  if (reference === "Id")
    return (
      {
        FeatureItemIds: "*FeatureItem",
        FeatureNominalIds: "*FeatureNominal",
        FeatureMeasurementIds: "*FeatureMeasurement",
        MeasurementDeviceIds: "MeasurementDevice",
        AnalysisSoftware: "Software",
        ActualComponentIds: "ActualComponent",
      }[parent] ?? null
    );
  const kind = /^(?:Feature|Characteristic)(?:Definition|Nominal|Item)Id$/.exec(reference)?.[0];
  if (kind !== undefined) return `${inItem ? "=" : "*"}${kind.replace(/Id$/, "")}`;
  return (
    {
      FormalStandardId: "Standard",
      DatumDefinitionId: "DatumDefinition",
      DatumReferenceFrameId: "DatumReferenceFrame",
    }[reference] ?? null
  );
}
