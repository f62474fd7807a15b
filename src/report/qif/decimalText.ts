/**
 * A double as an XML Schema decimal, which has no exponent: the shortest digits that read back as the same double.
 * Throws RangeError for what is no number: such a value must have been left out before.
 */
export function decimalText(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`no decimal can be written for ${value}`);
  const [digits = "0", exponent] = String(Math.abs(value)).split("e");
  const sign = value < 0 ? "-" : "";
  return exponent === undefined ? sign + digits : sign + shifted(digits, Number(exponent));
}

/** `1.25` and -7 to `0.000000125`. */
function shifted(digits: string, exponent: number): string {
  const [whole = "", fraction = ""] = digits.split(".");
  const all = whole + fraction;
  const point = whole.length + exponent;
  if (point <= 0) return `0.${"0".repeat(-point)}${all}`;
  return point >= all.length ? all.padEnd(point, "0") : `${all.slice(0, point)}.${all.slice(point)}`;
}
