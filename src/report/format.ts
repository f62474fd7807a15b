import type { Unit } from "../model/setupReport.ts";

/** The only place where a number becomes table text. */
export interface NumberStyle {
  readonly show: "mm" | "in";
  readonly decimal: "." | ",";
}

/** A number ready for a cell: `pad` and `padMark` stand for the digits and the mark it lacks beside its neighbours. */
export interface Quantity {
  readonly number: string;
  /** Unit as it follows the number, with its blank; `°` has none. */
  readonly unit: string;
  readonly pad: number;
  readonly padMark: boolean;
}

export interface QuantityOptions {
  /** Expanded uncertainty in the value's own unit: decides how many digits are worth printing. */
  readonly uncertainty?: number | null;
  /** Write `+` before a positive number. */
  readonly signed?: boolean;
  /** Fixed number of decimals in the shown unit, in place of what the uncertainty says. */
  readonly decimals?: number;
}

const MM_PER_INCH = 25.4;
const MINUS = "\u2212";
/** Decimals of a shop's number: the micrometre, the tenth of a thou, a third of an arc second. */
const USUAL_DECIMALS = { mm: 3, in: 4, deg: 4 } as const;

/** A length in mm or an angle in degrees, as the page shows it. */
export function quantity(
  value: number,
  unit: Unit,
  style: NumberStyle,
  options: QuantityOptions = {},
): Quantity {
  const shown = unit === "deg" ? "deg" : style.show;
  const decimals = options.decimals ?? decimalsOf(inShown(options.uncertainty ?? null, shown), shown);
  return {
    number: numberText(inShown(value, shown) ?? Number.NaN, decimals, style, options.signed ?? false),
    unit: shown === "deg" ? "°" : ` ${shown}`,
    pad: 0,
    padMark: false,
  };
}

/** A slope in mm per mm: mm/m or in/in. */
export function slope(value: number, style: NumberStyle): Quantity {
  const inch = style.show === "in";
  const number = numberText(inch ? value : value * 1000, inch ? 6 : 4, style, true);
  return { number, unit: inch ? " in/in" : " mm/m", pad: 0, padMark: false };
}

/** A bare number: counts, ratios, factors. */
export function plainNumber(value: number, decimals: number, style: NumberStyle): string {
  return numberText(value, decimals, style, false);
}

/** A share of one in percent, never rounded up to a certainty that is not there. */
export function percent(share: number, style: NumberStyle): string {
  const whole = share * 100;
  if (whole > 99.9 && whole < 100) return `> ${numberText(99.9, 1, style, false)}`;
  if (whole < 0.1 && whole > 0) return `< ${numberText(0.1, 1, style, false)}`;
  return numberText(whole, 1, style, false);
}

/**
 * Decimals in the shown unit that its uncertainty justifies: two digits of the uncertainty, but no finer than usual;
 * one finer where the uncertainty is smaller than two of the usual last place.
 */
export function decimalsOf(uncertainty: number | null, shown: "mm" | "in" | "deg"): number {
  const usual = USUAL_DECIMALS[shown];
  if (uncertainty === null || !(uncertainty > 0)) return usual;
  if (uncertainty < 2 * 10 ** -usual) return usual + 1;
  return Math.max(0, Math.min(usual, 1 - Math.floor(Math.log10(uncertainty))));
}

/** Decimals for an uncertainty itself: two digits of it, at most one finer than usual, but never a bare zero. */
export function uncertaintyDecimals(uncertainty: number, unit: Unit, style: NumberStyle): number {
  const shown = unit === "deg" ? "deg" : style.show;
  const number = inShown(uncertainty, shown) ?? 0;
  if (!(number > 0)) return USUAL_DECIMALS[shown];
  const first = -Math.floor(Math.log10(number));
  return Math.min(Math.max(0, first, Math.min(first + 1, USUAL_DECIMALS[shown] + 1)), 12);
}

/** Decimals for a number without limits or uncertainty: usual ones, or as many more as keep it from looking like nothing. */
export function visibleDecimals(value: number, unit: Unit, style: NumberStyle): number {
  const shown = unit === "deg" ? "deg" : style.show;
  const usual = USUAL_DECIMALS[shown];
  const number = Math.abs(inShown(value, shown) ?? 0);
  const more = [0, 1, 2, 3].find((extra) => Number(number.toFixed(usual + extra)) > 0);
  return usual + (more ?? 0);
}

/** Decimals for a value beside its limits: more when rounding would put it on the wrong side, or onto the limit. */
export function decimalsBeside(
  value: number,
  limits: readonly (number | null)[],
  unit: Unit,
  style: NumberStyle,
  uncertainty: number | null,
): number {
  const shown = unit === "deg" ? "deg" : style.show;
  const start = decimalsOf(inShown(uncertainty, shown), shown);
  for (let decimals = start; decimals < start + 4; decimals++) {
    const round = (number: number): number => Number((inShown(number, shown) ?? 0).toFixed(decimals));
    const clear = limits.every(
      (limit) => limit === null || Math.sign(round(value) - round(limit)) === Math.sign(value - limit),
    );
    if (clear) return decimals;
  }
  return start + 4;
}

/**
 * Decimals of a limit: as it was given where it ends within three decimals more than usual. One converted from the other
 * unit never ends: then as many as keep it within one percent.
 */
export function limitDecimals(limit: number, unit: Unit, style: NumberStyle): number {
  const shown = unit === "deg" ? "deg" : style.show;
  const number = inShown(limit, shown) ?? 0;
  const usual = USUAL_DECIMALS[shown];
  const choices = [usual, usual + 1, usual + 2, usual + 3];
  const off = (decimals: number): number => Math.abs(Number(number.toFixed(decimals)) - number);
  return (
    choices.find((decimals) => off(decimals) <= 1e-9) ??
    choices.find((decimals) => off(decimals) <= 0.01 * Math.abs(number)) ??
    usual + 3
  );
}

/** The same quantities with what each lacks to stand below the others on the decimal mark. */
export function aligned<Key extends string>(
  rows: readonly Readonly<Record<Key, Quantity | null>>[],
  key: Key,
): readonly (Quantity | null)[] {
  const fractions = rows.map((row) => fractionLength(row[key]));
  const longest = Math.max(0, ...fractions);
  return rows.map((row, index) => {
    const cell = row[key];
    const own = fractions[index] ?? 0;
    return cell && { ...cell, pad: longest - own, padMark: own === 0 && longest > 0 };
  });
}

const fractionLength = (cell: Quantity | null): number => cell?.number.split(/[.,]/)[1]?.length ?? 0;

function inShown(value: number | null, shown: "mm" | "in" | "deg"): number | null {
  return value === null || shown !== "in" ? value : value / MM_PER_INCH;
}

function numberText(value: number, decimals: number, style: NumberStyle, signed: boolean): string {
  if (!Number.isFinite(value)) return "?";
  const fixed = Math.abs(value) < 1e9 ? Math.abs(value).toFixed(decimals) : Math.abs(value).toExponential(3);
  const zero = !/[1-9]/.test(fixed);
  const sign = zero ? "" : value < 0 ? MINUS : signed ? "+" : "";
  return sign + (style.decimal === "," ? fixed.replace(".", ",") : fixed);
}
