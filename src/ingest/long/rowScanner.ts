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
/** Digits of which a whole number of 32 bits holds any. */
const WORD_DIGITS = 9;
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
  /** Where the plain row before `#at` starts; NONE when there is none. */
  #before = NONE;
  /** Which of its cells stand in quotation marks, a bit for each. */
  #quoted = 0;
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
    this.#at = 0;
    // The first of a part goes the long way, and so does the one after a row that was not plain.
    for (this.#before = NONE; ; ) {
      if (this.#before !== NONE) this.#plainRows(bytes.length);
      this.#handOver();
      const [at, before] = [this.#at, this.#before];
      if (before !== NONE) this.#sink.before(this.#text(before, this.#ended(at - 1)) ?? "", this.#line - 1);
      if (at === bytes.length) return true;
      const text = this.#text(at, this.#ended(bytes.indexOf(LF, at)));
      if (text === null || !this.#sink.other(text, this.#line)) return false;
      this.#before = NONE;
      if (!this.#apart.has(this.#line)) this.#plainRows(at + 1);
      // It went to the sink as text.
      this.#waiting = 0;
      if (this.#before !== NONE) continue;
      this.#at = bytes.indexOf(LF, at) + 1;
      this.#line++;
    }
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

  /** Hands over the rows that wait, the last of them in the line before this one. */
  #handOver(): void {
    if (this.#waiting === 0) return;
    this.#sink.plain(this.#numbers, this.#waiting, this.#line - this.#waiting, this.#name);
    this.#waiting = 0;
  }

  /** The row that was just read is the first of another name. False when that is no UTF-8. */
  #changeName(): boolean {
    const inside = this.#bytes[this.#nameFrom] === QUOTE ? 1 : 0;
    const name = this.#text(this.#nameFrom + inside, this.#nameTo - inside);
    if (name === null) return false;
    const row = this.#waiting * this.#width;
    this.#handOver();
    this.#numbers.copyWithin(0, row, row + this.#width);
    this.#name = name;
    this.#nameBytes = this.#bytes.slice(this.#nameFrom, this.#nameTo);
    return true;
  }

  /**
   * Reads plain rows that start before `limit`, each other than the one before it, and stays in front of the first that is
   * none; `#before` is where the last of them starts.
   */
  #plainRows(limit: number): void {
    const bytes = this.#bytes;
    const kinds = this.#kinds;
    const separator = this.#separator;
    const mark = this.#mark;
    const numbers = this.#numbers;
    const apart = this.#apart.size > 0;
    let at = this.#at;
    while (at < limit && !(apart && this.#apart.has(this.#line))) {
      const start = at;
      let place = this.#waiting * this.#width;
      let decimals = 0;
      let quoted = 0;
      this.#nameFrom = NONE;
      for (let cell = 0; cell < kinds.length && at !== NONE; cell++) {
        if (cell > 0 && bytes[at++] !== separator) {
          at = NONE;
          break;
        }
        if (bytes[at] === QUOTE) quoted |= 1 << cell;
        if (kinds[cell] !== NUMBER) {
          at = this.#words(at, kinds[cell] === NAME);
          decimals = 0;
          continue;
        }
        const from = at;
        let byte = bytes[at]!;
        const minus = byte === MINUS;
        if (minus) byte = bytes[++at]!;
        const first = at;
        let whole = 0;
        // Digits differ from zero in their last bits only.
        for (; (byte ^ ZERO) < 10; byte = bytes[++at]!) whole = (whole * 10 + (byte ^ ZERO)) | 0;
        const integers = at - first;
        let plainly = integers > 0 && integers < FILLER_DIGITS;
        decimals = 0;
        if (byte === mark) {
          const point = ++at;
          for (byte = bytes[at]!; (byte ^ ZERO) < 10; byte = bytes[++at]!)
            whole = (whole * 10 + (byte ^ ZERO)) | 0;
          decimals = at - point;
          plainly &&= decimals > 0;
        }
        // What is not as plain as that is looked at again.
        if (plainly && integers + decimals <= WORD_DIGITS && byte !== BLANK) {
          const value = whole / TENS[decimals]!;
          numbers[place++] = minus ? -value : value;
        } else {
          at = this.#number(from, place++);
          decimals = this.#decimals;
        }
      }
      if (at !== NONE && this.#crlf && bytes[at++] !== CR) at = NONE;
      if (at === NONE || bytes[at++] !== LF || !this.#isNext(start, at, quoted)) {
        this.#at = start;
        return;
      }
      this.#before = start;
      this.#quoted = quoted;
      this.#line++;
      if (decimals > this.lastCellDecimals) this.lastCellDecimals = decimals;
      if (++this.#waiting === BATCH) this.#handOver();
    }
    this.#at = at;
  }

  /** Whether the plain row from `start` to before `end` counts as one: neither too long nor perhaps the same as the one before it. */
  #isNext(start: number, end: number, quoted: number): boolean {
    if (end - start > LONGEST_LINE || this.#isSame(start, end)) return false;
    // With other cells in quotation marks the same may be written otherwise.
    if (this.#before !== NONE && quoted !== this.#quoted) return false;
    return this.#nameFrom === NONE || this.#changeName();
  }

  /** Whether the row from `start` to before `end` says byte for byte the same as the one before it. */
  #isSame(start: number, end: number): boolean {
    const bytes = this.#bytes;
    if (this.#before === NONE || end - start !== start - this.#before) return false;
    // Rows differ at their ends first.
    for (let i = end - 1, j = start - 1; i >= start; i--, j--) if (bytes[i] !== bytes[j]) return false;
    return true;
  }

  /** Reads the number in the cell at `from` into its place; where it ends, or NONE when it is not written plainly. */
  #number(from: number, place: number): number {
    const bytes = this.#bytes;
    let at = from;
    let byte = bytes[at]!;
    const quoted = byte === QUOTE;
    if (quoted) byte = bytes[++at]!;
    while (byte === BLANK) byte = bytes[++at]!;
    const minus = byte === MINUS;
    if (minus) byte = bytes[++at]!;
    const first = at;
    let whole = 0;
    // Digits differ from zero in their last bits only.
    for (; (byte ^ ZERO) < 10; byte = bytes[++at]!) whole = (whole * 10 + (byte ^ ZERO)) | 0;
    let digits = at - first;
    let decimals = 0;
    if (digits >= FILLER_DIGITS && this.#wholeOf(first, at) === TENS[digits]! - 1) return NONE;
    if (byte === this.#mark) {
      const point = at;
      for (byte = bytes[++at]!; (byte ^ ZERO) < 10; byte = bytes[++at]!)
        whole = (whole * 10 + (byte ^ ZERO)) | 0;
      decimals = at - point - 1;
      if (decimals === 0) return NONE;
      digits += decimals;
    }
    if (digits === 0 || digits > EXACT_DIGITS) return NONE;
    const value = (digits <= WORD_DIGITS ? whole : this.#wholeOf(first, at)) / TENS[decimals]!;
    this.#numbers[place] = minus ? -value : value;
    this.#decimals = decimals;
    while (byte === BLANK) byte = bytes[++at]!;
    if (!quoted) return at;
    return byte === QUOTE ? at + 1 : NONE;
  }

  /** The digits from `first` to before `end`, whatever stands between them, as one whole number. */
  #wholeOf(first: number, end: number): number {
    let whole = 0;
    for (let at = first; at < end; at++) {
      const digit = this.#bytes[at]! ^ ZERO;
      if (digit < 10) whole = whole * 10 + digit;
    }
    return whole;
  }

  /** Where the cell of words ends that starts at `from`, or NONE when it needs a longer look. A name that is not the last one is noted. */
  #words(from: number, isName: boolean): number {
    const bytes = this.#bytes;
    const separator = this.#separator;
    let at = from;
    this.#decimals = 0;
    if (isName && this.#isLastName(from)) return from + this.#nameBytes.length;
    const quoted = bytes[at] === QUOTE;
    if (quoted) at++;
    if (ODD_STARTS.has(bytes[at] ?? 0)) return NONE;
    while (bytes[at] === BLANK) at++;
    if (bytes[at] === HASH) return NONE;
    let filled = false;
    for (; ; at++) {
      const byte = bytes[at] ?? 0;
      if (quoted ? byte === QUOTE : byte === separator || byte === LF || byte === CR) break;
      if ((byte < BLANK && byte !== TAB) || byte === QUOTE || (byte >= 128 && !isName)) return NONE;
      filled ||= byte !== BLANK && byte !== TAB;
    }
    if (quoted) at++;
    if (!isName) return at;
    this.#nameFrom = from;
    this.#nameTo = at;
    return filled ? at : NONE;
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
