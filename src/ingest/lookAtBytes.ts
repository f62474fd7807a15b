import type { LogFile } from "../model/measurement.ts";
import { partOf } from "./logBytes.ts";
import type { Notebook, Refusal } from "./notebook.ts";

/** No reading needs a longer line; a longer one has lost its line ends. In bytes. */
export const LONGEST_LINE = 65_536;
/** A log that is looked at as a whole takes up to 25 times its bytes of memory, as text and cells. In bytes. */
export const LARGEST_WHOLE = 100_000_000;
const WINDOW = 4096;
const LF = 10;
const CR = 13;

/** Files that are no text by how they start. */
const PACKED: readonly { readonly start: readonly number[]; readonly what: string }[] = [
  { start: [0x50, 0x4b, 0x03, 0x04], what: "a packed file, as a spreadsheet's own is," },
  { start: [0xd0, 0xcf, 0x11, 0xe0], what: "an office document" },
  { start: [0x1f, 0x8b, 0x08], what: "a packed file" },
  { start: [0x25, 0x50, 0x44, 0x46, 0x2d], what: "a PDF" },
  { start: [0x89, 0x50, 0x4e, 0x47], what: "a picture" },
];

/**
 * A look at samples of the bytes before anything is decoded, so that what can be no log is refused at once whatever its
 * size: other files by their start, lines without end, bytes that are no text. Null when the rest may be read.
 */
export function lookAtBytes(file: Pick<LogFile, "bytes">, notes: Notebook): Refusal | null {
  const start = partOf(file, 0, WINDOW);
  const packed = PACKED.find(({ start: mark }) => mark.every((byte, at) => start[at] === byte));
  if (packed !== undefined)
    return notes.refuse(
      "not-text",
      "this is {what} and no text; export the readings as text, such as CSV, and hand that over",
      { what: packed.what },
    );
  // Every second byte of UTF-16 may be anything.
  const wide = (start[0] === 0xff && start[1] === 0xfe) || (start[0] === 0xfe && start[1] === 0xff);
  for (let at = 0; at < file.bytes.length; at += LONGEST_LINE) {
    const odd = endlessLine(file, at, notes) ?? (wide ? null : garbage(file, at, notes));
    if (odd !== null) return odd;
  }
  return null;
}

/** Each stretch of the longest line's length must hold a line end; most show one at their start. */
function endlessLine(file: Pick<LogFile, "bytes">, at: number, notes: Notebook): Refusal | null {
  if (at + LONGEST_LINE > file.bytes.length || hasEnd(partOf(file, at, at + WINDOW))) return null;
  const stretch = partOf(file, at, at + LONGEST_LINE);
  if (hasEnd(stretch) || stretch.every((byte) => byte === 0)) return null;
  return notes.refuse(
    "line-too-long",
    "{length} bytes from byte {at} on hold no line end, although a log has one reading a line; export it again with line ends",
    { length: LONGEST_LINE, at: at + 1 },
  );
}
const hasEnd = (bytes: Uint8Array): boolean => bytes.includes(LF) || bytes.includes(CR);

/** Bytes that are part of no text in any encoding that logs have, in a sample of each stretch. */
function garbage(file: Pick<LogFile, "bytes">, from: number, notes: Notebook): Refusal | null {
  const sample = partOf(file, from, from + WINDOW);
  let found = 0;
  for (const byte of sample) if (isControl(byte)) found++;
  if (found <= 3 + sample.length / 50) return null;
  return notes.refuse(
    "not-text",
    "{count} control characters among the {length} bytes from byte {at} on: this is no text; export the log as text",
    { count: found, length: sample.length, at: from + 1 },
  );
}
/** What frames the lines of a serial connection (STX, ETX, EOT, ACK, XON, XOFF) is taken off later. */
const FRAMING = new Set([0x02, 0x03, 0x04, 0x06, 0x11, 0x13]);
/** Neither tab, line end, form feed, end-of-file mark, padding NUL nor framing. */
const isControl = (byte: number): boolean =>
  byte < 32 && byte !== 0 && !(byte >= 9 && byte <= 13) && byte !== 0x1a && !FRAMING.has(byte);
