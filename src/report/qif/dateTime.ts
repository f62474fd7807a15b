/** A day as `2026-11-25` that there is. */
export function isDay(text: string): boolean {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (parts === null) return false;
  const [year, month, day] = parts.slice(1).map(Number);
  const longest = new Date(Date.UTC(year ?? 0, month ?? 0, 0)).getUTCDate();
  return year !== 0 && month !== 0 && (month ?? 13) <= 12 && day !== 0 && (day ?? 32) <= longest;
}

/** A day and time that XML Schema knows as a dateTime, with or without zone. */
export function isDateTime(text: string): boolean {
  const time = /^([0-9-]{10})T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d+)?(Z|[+-](0\d|1[0-3]):[0-5]\d)?$/.exec(
    text,
  );
  return time?.[1] !== undefined && isDay(time[1]);
}
