import { type AdviceDimension, adviceDimension } from "../../model/adviceDimension.ts";
import type { AdviceValue, ReportAdvice } from "../../model/setupReport.ts";
import { plainNumber, quantity, slope } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import { quantityText } from "./shared.ts";

const dimensionOf = (key: string, { plot }: ReportAdvice): AdviceDimension =>
  adviceDimension(key, plot?.data);

/** The numbers of an advice as a list: their key in words, and their text with its unit in parts that stay whole. */
export function adviceNumbers(
  advice: ReportAdvice,
  page: PageContext,
): readonly { readonly label: string; readonly parts: readonly string[] }[] {
  return Object.entries(advice.values).map(([key, value]) => ({
    label: own<string>(page.texts.adviceValues, key) ?? page.name(words(key)),
    parts: partsOf(value, dimensionOf(key, advice), page),
  }));
}

function partsOf(value: AdviceValue, dimension: AdviceDimension, page: PageContext): readonly string[] {
  if (value === null) return [page.texts.noValue];
  if (typeof value === "number") return [numberText(value, dimension, page)];
  if (typeof value === "boolean") return [value ? page.texts.yes : page.texts.no];
  if (typeof value === "string") return [page.name(value)];
  if (isList(value)) return value.flatMap((one) => partsOf(one, dimension, page));
  const entries = Object.entries(value);
  if (entries.length === 0) return [page.texts.noValue];
  return entries.map(([key, one]) => `${axisOr(key, page)} ${partsOf(one, dimension, page).join(", ")}`);
}

/** An axis by its capital, an index of B as `B90`, anything else by its name. */
const axisOr = (key: string, page: PageContext): string =>
  /^[xyzb]$/.test(key) ? key.toUpperCase() : /^\d+$/.test(key) ? `B${key}` : page.name(key);

const isList = (value: AdviceValue): value is readonly AdviceValue[] => Array.isArray(value);

function numberText(value: number, dimension: AdviceDimension, page: PageContext): string {
  if (dimension === "slope") return quantityText(slope(value, page.style));
  if (dimension === "count") return plainNumber(value, Number.isInteger(value) ? 0 : 2, page.style);
  const unit = dimension === "angle" ? "deg" : "mm";
  return quantityText(quantity(value, unit, page.style));
}

/** `leanOverHeight` as `lean over height`. */
const words = (key: string): string => key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
