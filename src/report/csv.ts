/**
 * A CSV text (RFC 4180) that no spreadsheet runs as formulas: every text cell is quoted, and one that begins with = + - @ or a
 * control character gets an apostrophe in front. Numbers are written as they are.
 */
export function csvText(rows: readonly (readonly (string | number | null)[])[]): string {
  return rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

function cell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return Number.isFinite(value) ? String(value) : "";
  const inert = /^[=+\-@\t\r\n\u0000-\u001f＝＋－＠]/u.test(value) ? `'${value}` : value;
  return `"${inert.replaceAll('"', '""')}"`;
}
