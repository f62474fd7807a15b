import type { LogFile } from "../model/measurement.ts";
import { wholeOf } from "./logBytes.ts";
import { LARGEST_WHOLE, LONGEST_LINE, lookAtBytes } from "./lookAtBytes.ts";
import { counted, isRefusal, type Notebook, type Refusal } from "./notebook.ts";

export interface DecodedLog {
  /** Without a byte order mark; every line end is LF. */
  readonly text: string;
  /** Exactly what the bytes say, mark included, when they are UTF-8; else null. */
  readonly exact: string | null;
}

/** Bytes to text. Notes encoding and line ends as decisions; refuses what is not text. */
export function decodeLog(file: LogFile, notes: Notebook): DecodedLog | Refusal {
  if (file.bytes.length === 0)
    return notes.refuse("empty-log", "the file is empty; expected rows of readings, so export the log again");
  const hopeless = lookAtBytes(file, notes);
  if (hopeless !== null) return hopeless;
  if (file.bytes.length > LARGEST_WHOLE)
    return notes.refuse(
      "too-large",
      "the log holds {size} MB, and at most {largest} MB can be looked at as a whole; split it",
      { size: Math.round(file.bytes.length / 1e6), largest: LARGEST_WHOLE / 1e6 },
    );
  const decoded = toText(wholeOf(file), notes);
  if (isRefusal(decoded)) return decoded;
  const plain = withoutFrames(withoutPadding(decoded.text, notes), notes);
  const odd = notText(plain, notes);
  if (odd !== null) return odd;
  const text = oneLineEnd(plain, notes);
  return tooLong(text, notes) ?? { text, exact: decoded.exact };
}

/** A block device or a serial line fills up with NUL; neither end of a log is made of it. */
function withoutPadding(text: string, notes: Notebook): string {
  let [from, to] = [0, text.length];
  while (from < to && text.charCodeAt(from) === 0) from++;
  while (to > from && text.charCodeAt(to - 1) === 0) to--;
  const count = text.length - (to - from);
  // One is the second half of a character of UTF-16 without its mark.
  if (count < 2) return text;
  notes.notice("note", "nul-padding", "{count} of padding (NUL) before or behind the text were not read", {
    count: counted(count, "character"),
  });
  return text.slice(from, to);
}

const FRAME = /^[\u0002-\u0004\u0006\u0011\u0013]+|[\u0002-\u0004\u0006\u0011\u0013]+$/gm;
/** What a serial connection sends around each line. */
function withoutFrames(text: string, notes: Notebook): string {
  if (!/[\u0002-\u0004\u0006\u0011\u0013]/.test(text)) return text;
  const bare = text.replace(FRAME, "");
  const count = text.length - bare.length;
  if (count > 0)
    notes.notice("note", "serial-framing", "{count} around the lines (STX, ETX and the like) were not read", {
      count: counted(count, "control character"),
    });
  return bare;
}

function tooLong(text: string, notes: Notebook): Refusal | null {
  let line = 1;
  for (let at = 0; at <= text.length; line++) {
    const end = text.indexOf("\n", at);
    const to = end === -1 ? text.length : end;
    if (to - at > LONGEST_LINE)
      return notes.refuse(
        "line-too-long",
        "the line has {length} characters, although a log has one reading a line; export it again with line ends",
        { length: to - at },
        { line },
      );
    at = to + 1;
  }
  return null;
}

function toText(bytes: Uint8Array, notes: Notebook): DecodedLog | Refusal {
  const [first, second, third] = bytes;
  if (first === 0xff && second === 0xfe) return fromUtf16(bytes, "utf-16le", notes);
  if (first === 0xfe && second === 0xff) return fromUtf16(bytes, "utf-16be", notes);
  const marked = first === 0xef && second === 0xbb && third === 0xbf;
  const exact = strictly(bytes, "utf-8");
  if (exact !== null) {
    notes.decide(
      "encoding",
      "UTF-8",
      marked ? "byte order mark EF BB BF" : "every byte sequence is valid UTF-8",
    );
    return { text: marked ? exact.slice(1) : exact, exact };
  }
  if (marked)
    return notes.refuse(
      "bad-encoding",
      "the file starts with the mark of UTF-8 but holds bytes that are not UTF-8; save it again as UTF-8",
    );
  notes.decide(
    "encoding",
    "Latin-1",
    "the bytes are not valid UTF-8 and carry no mark, so each byte is one character",
  );
  return { text: latin1(bytes), exact: null };
}

function fromUtf16(
  bytes: Uint8Array,
  encoding: "utf-16le" | "utf-16be",
  notes: Notebook,
): DecodedLog | Refusal {
  const text = strictly(bytes, encoding);
  if (text === null)
    return notes.refuse(
      "bad-encoding",
      "the file starts with the mark of UTF-16 but is cut inside a character or damaged; export it again",
    );
  const name = encoding === "utf-16le" ? "UTF-16 LE" : "UTF-16 BE";
  notes.decide("encoding", name, "byte order mark {mark}", { mark: name.endsWith("LE") ? "FF FE" : "FE FF" });
  return { text: text.slice(1), exact: null };
}

/** The text of bytes with any mark in front, or null when they are not in this encoding. */
export function strictly(bytes: Uint8Array, encoding: string): string | null {
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

function latin1(bytes: Uint8Array): string {
  const parts: string[] = [];
  const step = 8192;
  for (let at = 0; at < bytes.length; at += step)
    parts.push(String.fromCharCode(...bytes.subarray(at, at + step)));
  return parts.join("");
}

const LOOKED_AT = 65_536;
function notText(text: string, notes: Notebook): Refusal | null {
  const start = text.slice(0, LOOKED_AT);
  const nuls = start.split("\0").length - 1;
  if (nuls > start.length / 4)
    return notes.refuse(
      "bad-encoding",
      "every other character is NUL, which looks like UTF-16 without its mark; save the log as UTF-8",
    );
  const controls = start.match(/[\u0001-\u0008\u000e-\u0019\u001b-\u001f]/g)?.length ?? 0;
  if (controls > 3 + start.length / 50)
    return notes.refuse(
      "not-text",
      "{count} control characters among the first {length} characters: this is no text; export the log as text",
      { count: controls, length: start.length },
    );
  return null;
}

/** Quoted line breaks become LF too; cells that hold numbers never hold one. */
function oneLineEnd(text: string, notes: Notebook): string {
  // The end-of-file mark of old systems is no reading.
  const cut = text.replace(/\u001a+\s*$/, "");
  if (!cut.includes("\r")) {
    notes.decide("line ends", "LF", "no CR in the file");
    return cut;
  }
  const crlf = cut.includes("\r\n");
  const cr = /\r(?!\n)/.test(cut);
  const lf = /(?:^|[^\r])\n/.test(cut);
  const kinds = [crlf && "CRLF", cr && "CR", lf && "LF"].filter((kind) => kind !== false);
  notes.decide(
    "line ends",
    kinds.join(" and "),
    kinds.length > 1 ? "the file mixes them; each ends a line" : "found in the file",
  );
  return cut.replace(/\r\n?/g, "\n");
}
