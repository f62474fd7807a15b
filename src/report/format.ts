import { decimalsFor, inShown, isOpen, type Rounding, type ShownUnit } from "../model/decimals.ts";
import type { KnownRounding } from "../model/knownRounding.ts";
import type { Unit } from "../model/setupReport.ts";

/** The only place where a number becomes table text. */
export interface NumberStyle {
  readonly show: "mm" | "in";
  readonly decimal: "." | ",";
  /** The other unit of length, in brackets behind the first. */
  readonly also?: "mm" | "in" | null;
  /** Digits of lengths that are a result elsewhere. */
  readonly known?: KnownRounding;
}

/** A number ready for a cell: `pad` and `padMark` stand for the digits and the mark it lacks beside its neighbours. */
export interface Digits {
  readonly number: string;
  /** Unit as it follows the number, with its blank; `°` has none. */
  readonly unit: string;
  readonly pad: number;
  readonly padMark: boolean;
}
export interface Quantity extends Digits {
  /** The same in the other unit, where both are shown. */
  readonly also: Digits | null;
}

export interface QuantityOptions extends Rounding {
  /** Write `+` before a positive number. */
  readonly signed?: boolean;
  /** Fixed number of decimals in the shown unit; given as a number, inch has one more than mm. */
  readonly decimals?: number | ((shown: ShownUnit) => number);
}

const MINUS = "\u2212";

/** A length in mm or an angle in degrees, as the page shows it. */
export function quantity(
  value: number,
  unit: Unit,
  style: NumberStyle,
  { decimals, signed = false, ...own }: QuantityOptions = {},
): Quantity {
  const shown = shownIn(unit, style);
  const rounding = (unit === "mm" && isOpen(own) ? style.known?.(value) : null) ?? own;
  const digits = (other: ShownUnit): Digits => {
    const places =
      typeof decimals === "function"
        ? decimals(other)
        : decimals === undefined
          ? decimalsFor(value, rounding, other, other !== shown)
          : Math.max(0, decimals + fineness(other) - fineness(shown));
    return {
      number: numberText(inShown(value, other), places, style, signed),
      unit: other === "deg" ? "°" : ` ${other}`,
      pad: 0,
      padMark: false,
    };
  };
  const both = shown !== "deg" && style.also && style.also !== shown;
  return { ...digits(shown), also: both && style.also ? digits(style.also) : null };
}
const fineness = (shown: ShownUnit): number => (shown === "in" ? 1 : 0);
const shownIn = (unit: Unit, style: NumberStyle): ShownUnit => (unit === "deg" ? "deg" : style.show);

/** A slope in mm per mm: mm/m or in/in. */
export function slope(value: number, style: NumberStyle): Quantity {
  const digits = (inch: boolean): Digits => ({
    number: numberText(inch ? value : value * 1000, inch ? 6 : 4, style, true),
    unit: inch ? " in/in" : " mm/m",
    pad: 0,
    padMark: false,
  });
  const both = style.also && style.also !== style.show;
  return { ...digits(style.show === "in"), also: both ? digits(style.also === "in") : null };
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

/** The same quantities with what each lacks to stand below the others on the decimal mark. */
export function aligned<Key extends string>(
  rows: readonly Readonly<Record<Key, Quantity | null>>[],
  key: Key,
): readonly (Quantity | null)[] {
  const cells = rows.map((row) => row[key]);
  const first = padded(cells);
  const second = padded(cells.map((cell) => cell?.also ?? null));
  return first.map((digits, i) => digits && { ...digits, also: second[i] ?? null });
}

function padded(cells: readonly (Digits | null)[]): readonly (Digits | null)[] {
  const fractions = cells.map((cell) => cell?.number.split(/[.,]/)[1]?.length ?? 0);
  const longest = Math.max(0, ...fractions);
  return cells.map((cell, i) => {
    const own = fractions[i] ?? 0;
    return cell && { ...cell, pad: longest - own, padMark: own === 0 && longest > 0 };
  });
}

function numberText(value: number, decimals: number, style: NumberStyle, signed: boolean): string {
  if (!Number.isFinite(value)) return "?";
  const fixed = Math.abs(value) < 1e9 ? Math.abs(value).toFixed(decimals) : Math.abs(value).toExponential(3);
  const zero = !/[1-9]/.test(fixed);
  const sign = zero ? "" : value < 0 ? MINUS : signed ? "+" : "";
  return sign + (style.decimal === "," ? fixed.replace(".", ",") : fixed);
}
