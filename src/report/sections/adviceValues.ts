import type { AdviceValue } from "../../model/setupReport.ts";
import { plainNumber, quantity, slope } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import { quantityText } from "./shared.ts";

type Dimension = "length" | "angle" | "slope" | "count";

/** What the numbers of the advice kinds are; their keys are the same in every report. */
const DIMENSIONS: Readonly<Record<string, Dimension>> = {
  slopeX: "slope",
  slopeY: "slope",
  seatX: "slope",
  seatZ: "slope",
  common: "slope",
  remainder: "slope",
  yawCommon: "slope",
  yawRemainder: "slope",
  wedgeX: "slope",
  wedgeY: "slope",
  rotary: "angle",
  leastAngle: "angle",
  thickAngle: "angle",
  bSense: "count",
  passes: "count",
  count: "count",
};
/** Everything else that is a number is a length in mm. */
const dimensionOf = (key: string): Dimension => own(DIMENSIONS, key) ?? "length";

/** The numbers of an advice as a list: their key in words, and their text with its unit. */
export function adviceNumbers(
  values: Readonly<Record<string, AdviceValue>>,
  page: PageContext,
): readonly { readonly label: string; readonly value: string }[] {
  return Object.entries(values).map(([key, value]) => ({
    label: own<string>(page.texts.adviceValues, key) ?? page.name(words(key)),
    value: valueText(value, dimensionOf(key), page),
  }));
}

function valueText(value: AdviceValue, dimension: Dimension, page: PageContext): string {
  if (value === null) return page.texts.noValue;
  if (typeof value === "number") return numberText(value, dimension, page);
  if (typeof value === "boolean") return value ? page.texts.yes : page.texts.no;
  if (typeof value === "string") return page.name(value);
  if (isList(value)) return value.map((one) => valueText(one, dimension, page)).join(", ");
  return Object.entries(value)
    .map(([key, one]) => `${axisOr(key, page)} ${valueText(one, dimension, page)}`)
    .join(", ");
}

/** An axis by its capital, an index of B as `B90`, anything else by its name. */
const axisOr = (key: string, page: PageContext): string =>
  /^[xyzb]$/.test(key) ? key.toUpperCase() : /^\d+$/.test(key) ? `B${key}` : page.name(key);

const isList = (value: AdviceValue): value is readonly AdviceValue[] => Array.isArray(value);

function numberText(value: number, dimension: Dimension, page: PageContext): string {
  if (dimension === "slope") return quantityText(slope(value, page.style));
  if (dimension === "count") return plainNumber(value, Number.isInteger(value) ? 0 : 2, page.style);
  return quantityText(quantity(value, dimension === "angle" ? "deg" : "mm", page.style));
}

/** `leanOverHeight` as `lean over height`. */
const words = (key: string): string => key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
