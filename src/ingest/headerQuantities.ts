import { type Dimension, toInside, unitOf } from "../model/quantity.ts";
import { headerLine, type Settings } from "./headerSettings.ts";
import { isRefusal, type Notebook, quotable, type Refusal } from "./notebook.ts";
import type { DecimalMark } from "./readNumber.ts";

/** Header values with a unit, in mm, radians and degrees Celsius; null when the header does not state them. */
export interface Quantities {
  readonly tipDiameterMm: number | null;
  readonly sagMm: number | null;
  readonly leverAngleRad: number | null;
  readonly radiusMm: number | null;
  readonly temperatureC: number | null;
}

export function readQuantities(settings: Settings, mark: DecimalMark, notes: Notebook): Quantities | Refusal {
  const read = (key: string, dimension: Dimension, bare: Bare) =>
    headerQuantity({ key, dimension, bare }, settings, mark, notes);
  const lengths = settings.unit;
  const tip = read("tip-diameter", "length", lengths);
  if (isRefusal(tip)) return tip;
  const sag = read("sag", "length", lengths);
  if (isRefusal(sag)) return sag;
  const radius = read("radius", "length", lengths);
  if (isRefusal(radius)) return radius;
  const lever = read("lever-angle", "angle", { name: "deg", because: "angles are in degrees" });
  if (isRefusal(lever)) return lever;
  const temperature = read("temperature", "temperature", { name: "C", because: "temperatures are in °C" });
  if (isRefusal(temperature)) return temperature;
  const wrong = implausible({ tip, sag, radius, lever }, settings, notes);
  if (wrong !== null) return wrong;
  return {
    tipDiameterMm: tip,
    sagMm: sag,
    leverAngleRad: lever,
    radiusMm: radius,
    temperatureC: temperature,
  };
}

/** The unit of a number that has none, with the reason. */
type Bare = { readonly name: string; readonly because: string } | null;
/** A bare temperature above this is more likely in °F than in °C. */
const HOTTEST_SHOP_C = 50;
interface Wanted {
  readonly key: string;
  readonly dimension: Dimension;
  readonly bare: Bare;
}

function headerQuantity(
  { key, dimension, bare }: Wanted,
  settings: Settings,
  mark: DecimalMark,
  notes: Notebook,
): number | Refusal | null {
  const entry = settings.header.get(key);
  if (entry === undefined || entry.value === "") return null;
  const text = entry.value.replace(/^[\u2212\u2013]/, "-");
  // Quantities have a decimal point as in a plan; a comma counts where the log's own numbers have one.
  const pointed = mark === "," && !text.includes(".") ? text.replace(",", ".") : text;
  const match = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([^\d\s.,].*)?$/u.exec(pointed);
  const number = Number(match?.[1]);
  const unit = match?.[2] === undefined ? null : unitOf(match[2], dimension);
  const value = quotable(entry.value);
  const place = { line: entry.line };
  const example = { length: "6 mm", angle: "15 deg", temperature: "20.5 C" }[dimension as string] ?? "6 mm";
  if (match === null || !Number.isFinite(number) || (match[2] !== undefined && unit === null))
    return notes.refuse(
      `unreadable-${key}`,
      "{key}: {value} is not a quantity; write a number with a decimal point and its unit, such as {key}: {example}",
      { key, value, example },
      place,
    );
  const from = unit ?? bare?.name;
  if (from === undefined)
    return notes.refuse(
      "no-unit",
      "{key}: {value} has no unit and the log states none; write {key}: {value} mm or {key}: {value} in",
      { key, value },
      place,
    );
  if (dimension === "temperature" && unit === null && number > HOTTEST_SHOP_C)
    return notes.refuse(
      "no-unit",
      "{key}: {value} has no unit and is too hot for °C; write {key}: {value} F or {key}: {value} C",
      { key, value },
      place,
    );
  const inside = toInside(number, from, dimension);
  notes.decide(
    key,
    entry.value + (unit === null ? ` ${from}` : ""),
    headerLine(entry.line) + (unit === null ? `, its unit from ${bare?.because ?? ""}` : ""),
  );
  return inside;
}

function implausible(
  values: Readonly<Record<"tip" | "sag" | "radius" | "lever", number | null>>,
  settings: Settings,
  notes: Notebook,
): Refusal | null {
  const refuse = (key: string, expected: string): Refusal => {
    const entry = settings.header.get(key);
    return notes.refuse(
      `bad-${key}`,
      "{key}: {value} cannot be; expected {expected}",
      { key, value: quotable(entry?.value ?? ""), expected },
      entry === undefined ? {} : { line: entry.line },
    );
  };
  if (values.tip !== null && values.tip <= 0) return refuse("tip-diameter", "a diameter above zero");
  if (values.radius !== null && values.radius <= 0) return refuse("radius", "a radius above zero");
  if (values.sag !== null && values.sag < 0)
    return refuse(
      "sag",
      "the droop of the arm as a positive length, half the bottom reading on a mandrel zeroed at the top",
    );
  if (values.lever !== null && Math.abs(values.lever) >= Math.PI / 2)
    return refuse("lever-angle", "an angle between lever and surface below 90 degrees");
  return null;
}
