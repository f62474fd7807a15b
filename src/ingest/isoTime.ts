/**
 * A time written year first as ISO 8601 with a T; null for any other way of writing, where day and month could be
 * swapped. Without a zone it stays without.
 */
export function isoTime(text: string): string | null {
  const match =
    /^(\d{4})-(\d{2})-(\d{2})(?:[T\s]+(\d{2}):(\d{2})(?::(\d{2})(\.\d{1,9})?)?\s*(Z|[+-]\d{2}:?\d{2})?)?$/i.exec(
      text.trim(),
    );
  if (match === null) return null;
  const [, year = "", month = "", day = "", hour = "00", minute = "00", second = "00", part = "", zone = ""] =
    match;
  const plain = `${year}-${month}-${day}T${hour}:${minute}:${second}`;
  const at = Date.parse(`${plain}Z`);
  // A day that the month does not have comes out as another day.
  if (Number.isNaN(at) || new Date(at).toISOString().slice(0, 19) !== plain) return null;
  return plain + part + zone.toUpperCase().replace(/^([+-]\d{2})(\d{2})$/, "$1:$2");
}

/** Milliseconds for comparing; a time without a zone counts as UTC. */
export const timeValue = (iso: string): number =>
  Date.parse(/(?:Z|[+-]\d{2}:\d{2})$/.test(iso) ? iso : `${iso}Z`);
