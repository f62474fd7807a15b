/** What a quantity measures; each has one unit inside the pipeline. */
export type Dimension =
  | "length" // mm
  | "angle" // radians
  | "temperature" // degrees Celsius
  | "temperature-difference" // kelvin
  | "expansion" // 1/K
  | "torque" // N·m
  | "pressure" // MPa
  | "force" // N
  | "mass" // kg
  | "density"; // kg/mm3

interface UnitFactor {
  /** Inside = (written + shift) x multiply / divide; both kept so that exact factors stay exact. */
  readonly multiply: number;
  readonly divide: number;
  readonly shift?: number;
}
const by = (multiply: number, divide = 1): UnitFactor => ({ multiply, divide });

/**
 * Exact factors. Inch: 25.4 mm, pound: 0.45359237 kg, both by the international yard and pound agreement of 1959
 * (NIST Special Publication 811, appendix B). lbf·ft: 1.3558179483314004 N·m (nearest double: …003), from the same and g = 9.80665 m/s2.
 */
const UNITS: Readonly<Record<Dimension, Readonly<Record<string, UnitFactor>>>> = {
  length: {
    mm: by(1),
    um: by(1, 1000),
    nm: by(1, 1_000_000),
    cm: by(10),
    m: by(1000),
    in: by(25.4),
    thou: by(254, 10_000),
    tenth: by(254, 100_000),
    ft: by(304.8),
  },
  angle: {
    deg: by(Math.PI, 180),
    rad: by(1),
    mrad: by(1, 1000),
    arcmin: by(Math.PI, 10_800),
    arcsec: by(Math.PI, 648_000),
  },
  temperature: {
    C: by(1),
    F: { multiply: 5, divide: 9, shift: -32 },
    K: { multiply: 1, divide: 1, shift: -273.15 },
  },
  "temperature-difference": { K: by(1), C: by(1), F: by(5, 9) },
  expansion: {
    "1/K": by(1),
    "um/m/K": by(1, 1_000_000),
    "ppm/K": by(1, 1_000_000),
    "um/m/F": by(9, 5_000_000),
  },
  torque: {
    N·m: by(1),
    lbf·ft: by(1.3558179483314003),
    lbf·in: by(1.3558179483314003, 12),
    kgf·m: by(9.80665),
  },
  pressure: {
    MPa: by(1),
    bar: by(1, 10),
    kPa: by(1, 1000),
    Pa: by(1, 1_000_000),
    psi: by(6894.757293168361, 1_000_000),
  },
  force: { N: by(1), kN: by(1000), lbf: by(4.4482216152605) },
  mass: { kg: by(1), g: by(1, 1000), lb: by(0.45359237) },
  density: { "kg/m3": by(1, 1e9), "g/cm3": by(1, 1e6), "lb/in3": by(0.45359237, 16387.064) },
};

/** Other ways people write the same unit, compared after folding of case and blanks where that is safe. */
const ALIASES: Readonly<Record<string, string>> = {
  µm: "um",
  μm: "um",
  micron: "um",
  microns: "um",
  millimeter: "mm",
  millimetre: "mm",
  millimeters: "mm",
  millimetres: "mm",
  inch: "in",
  inches: "in",
  '"': "in",
  "″": "in",
  "in.": "in",
  zoll: "in",
  pouce: "in",
  pouces: "in",
  pulgada: "in",
  pulgadas: "in",
  pollice: "in",
  pollici: "in",
  millimètre: "mm",
  millimètres: "mm",
  milímetro: "mm",
  milímetros: "mm",
  millimetro: "mm",
  millimetri: "mm",
  tenths: "tenth",
  feet: "ft",
  "°": "deg",
  degree: "deg",
  degrees: "deg",
  "″arc": "arcsec",
  sec: "arcsec",
  "°C": "C",
  degC: "C",
  "°F": "F",
  degF: "F",
  Nm: "N·m",
  "N.m": "N·m",
  "N*m": "N·m",
  "N m": "N·m",
  "N⋅m": "N·m",
  ft·lbf: "lbf·ft",
  "ft-lb": "lbf·ft",
  ft·lb: "lbf·ft",
  "ft lb": "lbf·ft",
  "lb-ft": "lbf·ft",
  lb·ft: "lbf·ft",
  "lb ft": "lbf·ft",
  "lbf.ft": "lbf·ft",
  "lbf*ft": "lbf·ft",
  "lbf-ft": "lbf·ft",
  "lbf ft": "lbf·ft",
  "ft-lbf": "lbf·ft",
  "lbf⋅ft": "lbf·ft",
  "lbf-in": "lbf·in",
  "lb-in": "lbf·in",
  "in-lb": "lbf·in",
  in·lb: "lbf·in",
  in·lbf: "lbf·in",
  "in-lbf": "lbf·in",
  "lbf⋅in": "lbf·in",
  "µm/m/K": "um/m/K",
  "um/(m K)": "um/m/K",
  "um/(m·K)": "um/m/K",
  "um/m/C": "um/m/K",
  "µm/m/C": "um/m/K",
  "1e-6/K": "um/m/K",
  "ppm/C": "um/m/K",
  "1/C": "1/K",
  "/K": "1/K",
  lbs: "lb",
  "lb/in^3": "lb/in3",
  "lb/in³": "lb/in3",
  "g/cm^3": "g/cm3",
  "g/cm³": "g/cm3",
  "kg/m^3": "kg/m3",
  "kg/m³": "kg/m3",
};

export type QuantityReading =
  | { readonly ok: true; readonly value: number; readonly unit: string }
  | { readonly ok: false; readonly reason: string };

/** The canonical spelling of a unit of this dimension, or null when it is not one. */
export function unitOf(text: string, dimension: Dimension): string | null {
  const trimmed = text.trim();
  const units = UNITS[dimension];
  for (const candidate of [trimmed, trimmed.toLowerCase()]) {
    const name = Object.hasOwn(ALIASES, candidate) ? (ALIASES[candidate] ?? candidate) : candidate;
    if (Object.hasOwn(units, name)) return name;
  }
  return null;
}

/** `value` in `unit` as the unit used inside (see `Dimension`). Throws RangeError for a unit of another dimension. */
export const toInside = (value: number, unit: string, dimension: Dimension): number =>
  converter(unit, dimension)(value);

/** The same for many values of one unit. */
export function converter(unit: string, dimension: Dimension): (value: number) => number {
  const name = unitOf(unit, dimension);
  const factor = name === null ? undefined : UNITS[dimension][name];
  if (factor === undefined) throw new RangeError(`${unit} is not a unit of ${dimension}`);
  const { shift = 0, multiply, divide } = factor;
  return (value) => ((value + shift) * multiply) / divide;
}

/** Units a person may write for this dimension, for messages. */
export const unitsOf = (dimension: Dimension): readonly string[] => Object.keys(UNITS[dimension]);

/** The dimensions this unit belongs to; a kelvin is both a temperature and a difference. */
export const dimensionsOf = (unit: string): readonly Dimension[] =>
  (Object.keys(UNITS) as Dimension[]).filter((dimension) => unitOf(unit, dimension) !== null);

/** Reads `0.0005 in` and the like. The number has a decimal point; a unit is required. */
export function readQuantity(text: string, dimension: Dimension): QuantityReading {
  const match = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)(.*)$/su.exec(text);
  if (match === null) return { ok: false, reason: "it does not start with a number" };
  const [, number = "", rest = ""] = match;
  const unit = rest.trim();
  if (unit === "") return { ok: false, reason: "it has no unit" };
  if (/^[,.]\d/.test(unit)) return { ok: false, reason: "its number has a comma or a second point" };
  const name = unitOf(unit, dimension);
  if (name === null) return { ok: false, reason: notThisUnit(unit, dimension) };
  const value = toInside(Number(number), name, dimension);
  if (!Number.isFinite(value)) return { ok: false, reason: "its number is too large" };
  return { ok: true, value, unit: name };
}

const words = (dimension: Dimension): string => dimension.replace("-", " ");
function notThisUnit(unit: string, dimension: Dimension): string {
  const other = dimensionsOf(unit)[0];
  const belongs =
    other === undefined ? ` (${unitsOf(dimension).join(", ")})` : `, it is one of ${words(other)}`;
  return `"${unit}" is not a unit of ${words(dimension)}${belongs}`;
}
