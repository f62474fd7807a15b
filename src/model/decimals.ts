/** Units in which a number can stand on a page; slopes and bare numbers have their own fixed decimals. */
export type ShownUnit = "mm" | "in" | "deg";

/** 1 in = 25.4 mm exactly (international yard and pound agreement of 1959; NIST SP 811, B.8). */
const MM_PER_INCH = 25.4;
/** Decimals of a shop's number: the micrometre, the tenth of a thou, a third of an arc second. */
const USUAL_DECIMALS = { mm: 3, in: 4, deg: 4 } as const;
/** Part of a number by which a conversion there and back may miss it. */
const ROUNDING = 1e-12;
/** Uncertainties below this, in any unit, are rounding of exact numbers and say nothing about a gauge. */
const NOTHING = 1e-9;

/** A length in mm in the unit shown; angles are degrees already. */
export const inShown = (value: number, shown: ShownUnit): number =>
  shown === "in" ? value / MM_PER_INCH : value;

/**
 * Decimals that the uncertainty of a number justifies, both in the shown unit: two digits of the uncertainty, but no finer
 * than usual; one finer where the uncertainty is smaller than two of the usual last place.
 */
export function decimalsOf(uncertainty: number | null, shown: ShownUnit): number {
  const usual = USUAL_DECIMALS[shown];
  if (uncertainty === null || !(uncertainty > NOTHING)) return usual;
  if (uncertainty < 2 * 10 ** -usual) return usual + 1;
  return Math.max(0, Math.min(usual, 1 - Math.floor(Math.log10(uncertainty))));
}

/** Decimals for an uncertainty itself: two digits of it, at most one finer than usual, but never a bare zero. */
export function decimalsOfUncertainty(uncertainty: number, shown: ShownUnit): number {
  if (!(uncertainty > NOTHING)) return USUAL_DECIMALS[shown];
  const first = -Math.floor(Math.log10(uncertainty));
  return Math.max(0, first, Math.min(first + 1, USUAL_DECIMALS[shown] + 1));
}

/** Decimals for a number without limits or uncertainty: usual ones, or as many more as keep it from looking like nothing. */
export function decimalsToSee(value: number, shown: ShownUnit): number {
  const usual = USUAL_DECIMALS[shown];
  const more = [0, 1, 2, 3].find((extra) => Number(Math.abs(value).toFixed(usual + extra)) > 0);
  return usual + (more ?? 0);
}

/** Decimals for a value beside its limits: more when rounding would put it on the wrong side, or onto the limit. */
export function decimalsBesideLimits(
  value: number,
  limits: readonly (number | null)[],
  uncertainty: number | null,
  shown: ShownUnit,
): number {
  const start = decimalsOf(uncertainty, shown);
  for (let decimals = start; decimals < start + 4; decimals++) {
    const round = (number: number): number => Number(number.toFixed(decimals));
    const clear = limits.every(
      (limit) => limit === null || Math.sign(round(value) - round(limit)) === Math.sign(value - limit),
    );
    if (clear) return decimals;
  }
  return start + 4;
}

/**
 * Decimals of a number as it was stated: as many as it was given with where it ends within three decimals more than usual.
 * One converted from the other unit seldom ends, and its end means nothing: then as many as keep it within one percent.
 */
export function decimalsOfStated(value: number, shown: ShownUnit, converted = false): number {
  const usual = USUAL_DECIMALS[shown];
  const choices = [usual, usual + 1, usual + 2, usual + 3];
  const off = (decimals: number): number => Math.abs(Number(value.toFixed(decimals)) - value);
  const same = ROUNDING * Math.max(1, Math.abs(value));
  return (
    (converted ? undefined : choices.find((decimals) => off(decimals) <= same)) ??
    choices.find((decimals) => off(decimals) <= 0.01 * Math.abs(value)) ??
    usual + 3
  );
}

/**
 * Which digits of a length or angle are worth saying. Without any of these: the usual ones of the shop, more where they
 * would look like nothing.
 */
export interface Rounding {
  /** Expanded uncertainty in the value's own unit (mm or degrees), and the limits that rounding must not cross. */
  readonly uncertainty?: number | null;
  readonly beside?: readonly (number | null)[];
  /** A limit has the digits it was given with, something stated has no zeros behind them, an uncertainty or what a fit leaves over has two. */
  readonly as?: "limit" | "stated" | "uncertainty";
}

/** Whether nothing is said of what the digits rest on. */
export const isOpen = ({ uncertainty, beside, as }: Rounding): boolean =>
  uncertainty == null && beside === undefined && as === undefined;

/** Decimals in the shown unit for a value in mm or degrees; `converted` where it only follows the other unit in brackets. */
export function decimalsFor(value: number, rounding: Rounding, shown: ShownUnit, converted = false): number {
  const { uncertainty = null, beside = [], as } = rounding;
  const number = inShown(value, shown);
  if (as === "uncertainty") return decimalsOfUncertainty(Math.abs(number), shown);
  if (as !== undefined) return decimalsOfStated(number, shown, converted);
  if (uncertainty === null && beside.length === 0) return decimalsToSee(number, shown);
  return decimalsBesideLimits(
    number,
    beside.map((limit) => (limit === null ? null : inShown(limit, shown))),
    uncertainty === null ? null : inShown(uncertainty, shown),
    shown,
  );
}
