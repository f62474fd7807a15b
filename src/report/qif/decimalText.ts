/** Readers of XML Schema hold decimals in words of fixed size; the commonest refuses more digits behind the point than these. */
const MOST_PLACES = 24;

/**
 * A double as an XML Schema decimal, which has no exponent: the shortest digits that read back as the same double, rounded to
 * 24 places behind the point, which changes only what is below 1e-7. Throws RangeError for what is no number: such a value
 * must have been left out before.
 */
export function decimalText(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`no decimal can be written for ${value}`);
  const [digits = "0", exponent] = String(Math.abs(value)).split("e");
  const shortest = exponent === undefined ? digits : shifted(digits, Number(exponent));
  const places = shortest.split(".")[1]?.length ?? 0;
  const text = places <= MOST_PLACES ? shortest : rounded(Math.abs(value));
  return value < 0 && Number(text) !== 0 ? `-${text}` : text;
}
const rounded = (value: number): string => value.toFixed(MOST_PLACES).replace(/\.?0+$/, "");

/** `1.25` and -7 to `0.000000125`. */
function shifted(digits: string, exponent: number): string {
  const [whole = "", fraction = ""] = digits.split(".");
  const all = whole + fraction;
  const point = whole.length + exponent;
  if (point <= 0) return `0.${"0".repeat(-point)}${all}`;
  return point >= all.length ? all.padEnd(point, "0") : `${all.slice(0, point)}.${all.slice(point)}`;
}
