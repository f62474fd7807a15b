/** The same double without a decimal mark, so that it says nothing about the mark of the readings: 12.5 is 125e-1. */
export function markless(value: number | null): string {
  if (value === null) return "";
  const [mantissa = "", exponent = "0"] = String(value).split("e");
  const [whole = "", part = ""] = mantissa.split(".");
  return `${whole}${part}e${Number(exponent) - part.length}`;
}
