import type { Notebook, Refusal } from "./notebook.ts";

/** No reading needs a longer line; a longer one has lost its line ends. In bytes. */
export const LONGEST_LINE = 65_536;
/** Text and cells of a larger log do not fit into memory together. */
const LARGEST_LOG = 400 * 1024 * 1024;
const WINDOW = 4096;
const LF = 10;
const CR = 13;

/** Files that are no text by how they start. */
const PACKED: readonly { readonly start: readonly number[]; readonly what: string }[] = [
  { start: [0x50, 0x4b, 0x03, 0x04], what: "a packed file, such as a spreadsheet's own" },
  { start: [0xd0, 0xcf, 0x11, 0xe0], what: "an office document" },
  { start: [0x1f, 0x8b, 0x08], what: "a packed file" },
  { start: [0x25, 0x50, 0x44, 0x46, 0x2d], what: "a PDF" },
  { start: [0x89, 0x50, 0x4e, 0x47], what: "a picture" },
];

/**
 * A look at samples of the bytes before anything is decoded, so that what can be no log is refused at once whatever its
 * size: other files by their start, lines without end, bytes that are no text. Null when the rest may be read.
 */
export function lookAtBytes(bytes: Uint8Array, notes: Notebook): Refusal | null {
  const packed = PACKED.find(({ start }) => start.every((byte, at) => bytes[at] === byte));
  if (packed !== undefined)
    return notes.refuse(
      "not-text",
      "this is {what} and no text; export the readings as text, such as CSV, and hand that over",
      { what: packed.what },
    );
  if (bytes.length > LARGEST_LOG)
    return notes.refuse(
      "too-large",
      "the log holds {size} MB and at most {largest} MB are read at once; split it into several logs",
      { size: Math.round(bytes.length / 1024 / 1024), largest: LARGEST_LOG / 1024 / 1024 },
    );
  return endlessLine(bytes, notes) ?? garbage(bytes, notes);
}

/** Each stretch of the longest line's length must hold a line end. */
function endlessLine(bytes: Uint8Array, notes: Notebook): Refusal | null {
  for (let at = 0; at + LONGEST_LINE <= bytes.length; at += LONGEST_LINE) {
    const part = bytes.subarray(at, at + LONGEST_LINE);
    if (part.includes(LF) || part.includes(CR) || part.every((byte) => byte === 0)) continue;
    return notes.refuse(
      "line-too-long",
      "{length} bytes from byte {at} on hold no line end, although a log has one reading a line; export it again with line ends",
      { length: LONGEST_LINE, at: at + 1 },
    );
  }
  return null;
}

/** Bytes that are part of no text in any encoding that logs have, in samples over the whole file. */
function garbage(bytes: Uint8Array, notes: Notebook): Refusal | null {
  // Every second byte of UTF-16 may be anything.
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) return null;
  for (let from = 0; from < bytes.length; from += LONGEST_LINE) {
    const to = Math.min(from + WINDOW, bytes.length);
    let found = 0;
    for (let at = from; at < to; at++) if (isControl(bytes[at] ?? 0)) found++;
    if (found > 3 + (to - from) / 50)
      return notes.refuse(
        "not-text",
        "{count} control characters among the {length} bytes from byte {at} on: this is no text; export the log as text",
        { count: found, length: to - from, at: from + 1 },
      );
  }
  return null;
}
/** What frames the lines of a serial connection (STX, ETX, EOT, ACK, XON, XOFF) is taken off later. */
const FRAMING = new Set([0x02, 0x03, 0x04, 0x06, 0x11, 0x13]);
/** Neither tab, line end, form feed, end-of-file mark, padding NUL nor framing. */
const isControl = (byte: number): boolean =>
  byte < 32 && byte !== 0 && !(byte >= 9 && byte <= 13) && byte !== 0x1a && !FRAMING.has(byte);
