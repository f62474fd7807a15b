import { plainNumber, quantity, slope } from "../format.ts";
import type { PageContext } from "../pageContext.ts";

const MM_PER_INCH = 25.4;

/** The largest 1, 2 or 5 times a power of ten that is not above `value` (positive). */
export function niceBelow(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const step = [5, 2, 1].find((candidate) => candidate * power <= value * (1 + 1e-12)) ?? 1;
  return step * power;
}

/** A round length in the page's unit that is not above `mm`, in mm. */
export function niceLengthBelow(mm: number, page: PageContext): number {
  const unit = page.style.show === "in" ? MM_PER_INCH : 1;
  return niceBelow(mm / unit) * unit;
}

/** A round length as text, without digits that say nothing. */
export function roundLength(mm: number, page: PageContext, signed = false): string {
  const unit = page.style.show === "in" ? MM_PER_INCH : 1;
  const shown = Math.abs(mm / unit);
  const decimals = shown === 0 ? 0 : Math.min(7, Math.max(0, -Math.floor(Math.log10(shown * (1 + 1e-9)))));
  const more = Math.abs(Number(shown.toFixed(decimals)) - shown) > 1e-6 * shown ? 1 : 0;
  const text = quantity(mm, "mm", page.style, { decimals: decimals + more, signed });
  return text.number + text.unit;
}

/** Exaggeration as a plain number. */
export function factorText(factor: number, page: PageContext): string {
  const text = plainNumber(factor, factor < 1 ? 2 : 0, page.style);
  // Groups of three keep a long run of noughts countable.
  return text.replace(/\B(?=(\d{3})+$)/g, "\u202f");
}

/** A slope as text with its sign. */
export function slopeText(value: number, page: PageContext): string {
  const text = slope(value, page.style);
  return text.number + text.unit;
}

/** A movement, or where it leads, with its sign: the digits that it has in sentence and table. */
export function movedText(mm: number, page: PageContext): string {
  const text = quantity(mm, "mm", page.style, { signed: true });
  return text.number + text.unit;
}
/** A small deviation as text, one digit finer than the shop's usual. */
export function deviationText(mm: number, page: PageContext): string {
  const text = quantity(mm, "mm", page.style, { decimals: page.style.show === "in" ? 5 : 4, signed: true });
  return text.number + text.unit;
}
