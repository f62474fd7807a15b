import type { Separator } from "../adapters/contract.ts";
import { LONGEST_LINE } from "../lookAtBytes.ts";
import type { DecimalMark } from "../readNumber.ts";

/** What stands in each cell of a plain row, by its place. */
export type CellKind = "number" | "name" | "text";
export interface RowLayout {
  readonly separator: Separator;
  readonly mark: DecimalMark;
  /** Lines end in CR LF, not in LF. */
  readonly crlf: boolean;
  readonly cells: readonly CellKind[];
}
/** Takes the rows that a scanner finds, in their order. */
export interface RowSink {
  /**
   * Plain rows of one name in consecutive lines from `line` on: row by row their numbers in the order of their cells, to the
   * last bit `Number` of their digits, and their name cell as written. The array is used again.
   */
  plain(numbers: Float64Array, rows: number, line: number, name: string): void;
  /** The plain row right before one that goes to `other`, or the last of a part. */
  before(text: string, line: number): void;
  /** A line that is no plain row, or says the same as the one before. Whether the scan may go on. */
  other(text: string, line: number): boolean;
}

const TAB = 9;
const LF = 10;
const CR = 13;
const BLANK = 32;
const QUOTE = 34;
const HASH = 35;
const MINUS = 45;
const ZERO = 48;
const NINE = 57;
/** First bytes of what may be a blank of another kind or a byte order mark. */
const ODD_STARTS = new Set([0xc2, 0xe2, 0xe3, 0xef]);
/** Digits that a double holds exactly, whatever they are. */
const EXACT_DIGITS = 15;
/** So many nines and nothing else stand for no value. */
const FILLER_DIGITS = 4;
const TENS = Float64Array.from({ length: EXACT_DIGITS + 1 }, (_, power) => 10 ** power);
const NUMBER = 0;
const NAME = 1;
const KINDS: Readonly<Record<CellKind, number>> = { number: NUMBER, name: NAME, text: 2 };
const NONE = -1;
/** Rows that are handed over at once, at most. */
const BATCH = 512;

/**
 * Reads rows of a log from its bytes. A number of at most 15 digits is its digits as one whole number divided by a power
 * of ten: both are exact in a double, so that the quotient is the nearest double, which is what `Number` gives.
 */
export class RowScanner {
  readonly #kinds: Uint8Array;
  /** Numbers of the rows that wait, and of the one that is being read. */
  readonly #numbers: Float64Array;
  readonly #width: number;
  #waiting = 0;
  readonly #separator: number;
  readonly #mark: number;
  readonly #crlf: boolean;
  readonly #apart: ReadonlySet<number>;
  readonly #sink: RowSink;
  readonly #decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
  #bytes: Uint8Array = new Uint8Array();
  #line: number;
  #name = "";
  #nameBytes: Uint8Array = new Uint8Array();
  #nameFrom = NONE;
  #nameTo = NONE;
  #at = 0;
  #decimals = 0;
  /** Most decimals in the last cell of a plain row so far. */
  lastCellDecimals = 0;

  /**
   * @param line number of the first line that comes
   * @param apart lines that are never plain
   */
  constructor(layout: RowLayout, line: number, apart: ReadonlySet<number>, sink: RowSink) {
    this.#kinds = Uint8Array.from(layout.cells, (kind) => KINDS[kind]);
    this.#width = layout.cells.filter((kind) => kind === "number").length;
    this.#numbers = new Float64Array(this.#width * BATCH);
    this.#separator = layout.separator.charCodeAt(0);
    this.#mark = layout.mark.charCodeAt(0);
    this.#crlf = layout.crlf;
    this.#apart = apart;
    this.#line = line;
    this.#sink = sink;
  }

  /** Number of the line after the last one that was read. */
  get nextLine(): number {
    return this.#line;
  }

  /** Reads whole lines; `bytes` ends with a line end. False when the rest cannot be read so: bytes that are no UTF-8, or the sink said no. */
  take(bytes: Uint8Array): boolean {
    this.#bytes = bytes;
    // The first of a part goes the long way, and so does the one after a row that was not plain.
    let before = NONE;
    for (let at = 0; at < bytes.length; this.#line++) {
      const end = this.#apart.has(this.#line) ? NONE : this.#plainRow(at);
      if (end !== NONE && end - at <= LONGEST_LINE && before !== NONE && !this.#sameLine(before, at, end)) {
        if (this.#nameFrom !== NONE && !this.#changeName()) return false;
        if (++this.#waiting === BATCH) this.#handOver(this.#line + 1);
        if (this.#decimals > this.lastCellDecimals) this.lastCellDecimals = this.#decimals;
      } else {
        this.#handOver(this.#line);
        if (before !== NONE) this.#sink.before(this.#text(before, this.#ended(at - 1)) ?? "", this.#line - 1);
        const text = this.#text(at, this.#ended(bytes.indexOf(LF, at)));
        if (text === null || !this.#sink.other(text, this.#line)) return false;
      }
      before = end === NONE ? NONE : at;
      at = end === NONE ? bytes.indexOf(LF, at) + 1 : end + (this.#crlf ? 2 : 1);
    }
    this.#handOver(this.#line);
    if (before !== NONE)
      this.#sink.before(this.#text(before, this.#ended(bytes.length - 1)) ?? "", this.#line - 1);
    return true;
  }

  /** Where the text of a line ends whose LF stands at `newline`. */
  #ended(newline: number): number {
    return this.#crlf && this.#bytes[newline - 1] === CR ? newline - 1 : newline;
  }

  #text(from: number, to: number): string | null {
    try {
      return this.#decoder.decode(this.#bytes.subarray(from, to));
    } catch {
      return null;
    }
  }

  /** Hands over the rows that wait, the last of them in the line before `line`. */
  #handOver(line: number): void {
    if (this.#waiting === 0) return;
    this.#sink.plain(this.#numbers, this.#waiting, line - this.#waiting, this.#name);
    this.#waiting = 0;
  }

  /** The row that was just read is the first of another name. */
  #changeName(): boolean {
    const row = this.#waiting * this.#width;
    this.#handOver(this.#line);
    this.#numbers.copyWithin(0, row, row + this.#width);
    const name = this.#text(this.#nameFrom, this.#nameTo);
    if (name === null) return false;
    this.#name = name;
    this.#nameBytes = this.#bytes.slice(this.#nameFrom, this.#nameTo);
    return true;
  }

  #sameLine(one: number, other: number, end: number): boolean {
    const bytes = this.#bytes;
    if (this.#ended(other - 1) - one !== end - other) return false;
    // Rows differ at their ends first.
    for (let i = end - 1, j = one + end - other - 1; i >= other; i--, j--)
      if (bytes[i] !== bytes[j]) return false;
    return true;
  }

  /** Reads the row that starts at `at`; where its line end stands, or NONE when it is no plain row. */
  #plainRow(start: number): number {
    const bytes = this.#bytes;
    const kinds = this.#kinds;
    const last = kinds.length - 1;
    let number = this.#waiting * this.#width;
    this.#at = start;
    this.#nameFrom = NONE;
    this.#decimals = 0;
    for (let cell = 0; cell <= last; cell++) {
      const kind = kinds[cell];
      if (kind === NUMBER) {
        if (!this.#number(number++)) return NONE;
      } else if (!this.#words(kind === NAME)) return NONE;
      if (cell === last) break;
      if (bytes[this.#at] !== this.#separator) return NONE;
      this.#at++;
    }
    const at = this.#at;
    if (bytes[at] === LF) return this.#crlf ? NONE : at;
    return this.#crlf && bytes[at] === CR && bytes[at + 1] === LF ? at : NONE;
  }

  /** Reads the number in the cell at `#at` into its place and goes behind it; false when it is not written plainly. */
  #number(place: number): boolean {
    const bytes = this.#bytes;
    let at = this.#at;
    while (bytes[at] === BLANK) at++;
    const minus = bytes[at] === MINUS;
    if (minus) at++;
    const first = at;
    let whole = 0;
    let byte = bytes[at] ?? 0;
    for (; byte >= ZERO && byte <= NINE; byte = bytes[++at] ?? 0) whole = whole * 10 + (byte - ZERO);
    let digits = at - first;
    let decimals = 0;
    if (digits >= FILLER_DIGITS && digits <= EXACT_DIGITS && whole === (TENS[digits] ?? 0) - 1) return false;
    if (byte === this.#mark) {
      const point = at;
      for (byte = bytes[++at] ?? 0; byte >= ZERO && byte <= NINE; byte = bytes[++at] ?? 0)
        whole = whole * 10 + (byte - ZERO);
      decimals = at - point - 1;
      if (decimals === 0) return false;
      digits += decimals;
    }
    if (digits === 0 || digits > EXACT_DIGITS) return false;
    while (byte === BLANK) byte = bytes[++at] ?? 0;
    this.#at = at;
    this.#decimals = decimals;
    const value = decimals === 0 ? whole : whole / (TENS[decimals] ?? 1);
    this.#numbers[place] = minus ? -value : value;
    return true;
  }

  /** Goes behind a cell of words; false when it needs a longer look. A name that is not the last one is noted. */
  #words(isName: boolean): boolean {
    const bytes = this.#bytes;
    const separator = this.#separator;
    const from = this.#at;
    let at = from;
    if (isName && this.#isLastName(from)) {
      this.#at = from + this.#nameBytes.length;
      return true;
    }
    if (ODD_STARTS.has(bytes[at] ?? 0)) return false;
    while (bytes[at] === BLANK) at++;
    if (bytes[at] === HASH) return false;
    let filled = false;
    for (; ; at++) {
      const byte = bytes[at] ?? 0;
      if (byte === separator || byte === LF || byte === CR) break;
      if ((byte < BLANK && byte !== TAB) || byte === QUOTE || (byte >= 128 && !isName)) return false;
      filled ||= byte !== BLANK && byte !== TAB;
    }
    this.#at = at;
    this.#decimals = 0;
    if (!isName) return true;
    this.#nameFrom = from;
    this.#nameTo = at;
    return filled;
  }

  #isLastName(from: number): boolean {
    const bytes = this.#bytes;
    const name = this.#nameBytes;
    const { length } = name;
    if (length === 0 || bytes[from + length] !== this.#separator) return false;
    for (let i = 0; i < length; i++) if (bytes[from + i] !== name[i]) return false;
    return true;
  }
}
