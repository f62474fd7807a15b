import type { LogFile } from "../../model/measurement.ts";
import type { Separator } from "../adapters/contract.ts";
import { isSimplyQuoted, splitLine } from "../cells.ts";
import { COLUMNS, type ColumnMatch, type KindOfColumns, type Mapping } from "../columns.ts";
import { strictly } from "../decodeLog.ts";
import { partOf } from "../logBytes.ts";
import { isBlank, isComment } from "../logText.ts";
import { LONGEST_LINE } from "../lookAtBytes.ts";
import { type DecimalMark, saysOnlyItself, writtenDecimals } from "../readNumber.ts";
import { namesColumns } from "../survey.ts";
import { unitWord } from "../unitWords.ts";
import type { RowCount } from "../walkRows.ts";
import { type CellKind, RowScanner, type RowSink } from "./rowScanner.ts";

/** Who takes the rows: plain ones as numbers, others as cells. */
export interface RowTaker {
  readonly count: RowCount;
  readonly plain?: RowSink["plain"];
  expect?(count: number): void;
  before?(cells: readonly string[], line: number): void;
  take(cells: readonly string[], line: number, broken: undefined, open: boolean): void;
}
export interface RestOptions {
  readonly file: LogFile;
  /** Where the rows start: byte and line. */
  readonly from: number;
  readonly line: number;
  readonly columns: ColumnMatch;
  readonly kind: KindOfColumns;
  readonly separator: Separator;
  readonly declared: Separator | null;
  readonly mapping: Mapping;
  readonly crlf: boolean;
  /** Bytes read at once. */
  readonly part: number;
  /** More are not read. */
  readonly mostRows: number;
  /** Lines that the plan leaves out. */
  readonly excluded: ReadonlySet<number>;
}

const LF = 10;
const MARKS = /[\u0000-\u0008\u000b-\u001f]/;

/**
 * The rows of a long log after its first ones, read from its bytes when they are asked for. Only what every row says by
 * itself is read so: a line that could mean something for others, such as a remark, ends it, and `stoppedAt` says where.
 */
export class RowsToCome {
  readonly #options: RestOptions;
  readonly #numbers: readonly number[];
  /** Line whose meaning goes beyond its row; null when all was read. */
  stoppedAt: number | null = null;
  /** Whether it stopped because there were more rows than are read. */
  tooMany = false;
  /** Most decimals in the last cell of the rows so far. */
  mostDecimals = 0;

  constructor(options: RestOptions) {
    this.#options = options;
    this.#numbers = [...options.columns.found].flatMap(([name, { index }]) =>
      COLUMNS[name] === null && name !== "value" ? [] : [index],
    );
  }

  read(mark: DecimalMark, taker: RowTaker): void {
    const { file, from, line, separator, crlf, excluded, part: size, mostRows } = this.#options;
    const sink = this.#sinkFor(taker, mark);
    const scanner = new RowScanner({ separator, mark, crlf, cells: this.#cells() }, line, excluded, sink);
    const { length } = file.bytes;
    taker.expect?.(Math.min(mostRows, Math.ceil((1.05 * (length - from)) / (from / line))));
    let at = from;
    while (at < length) {
      const part = partOf(file, at, Math.min(at + size, length));
      const end = part.lastIndexOf(LF) + 1;
      if (end === 0 && at + part.length < length) {
        this.stoppedAt = scanner.nextLine;
        return;
      }
      if (end === 0) break;
      const tookAll = scanner.take(part.subarray(0, end));
      this.tooMany = taker.count.rows > mostRows;
      if (!tookAll || this.tooMany) {
        this.stoppedAt = scanner.nextLine;
        return;
      }
      at += end;
      this.mostDecimals = Math.max(this.mostDecimals, scanner.lastCellDecimals);
    }
    if (at < length) this.#lastRow(at, scanner.nextLine, mark, taker);
  }

  #cells(): CellKind[] {
    const { columns, kind } = this.#options;
    const name = columns.found.get(kind.nameColumn ?? "feature")?.index;
    return Array.from({ length: columns.cellCount }, (_, index) =>
      this.#numbers.includes(index) ? "number" : index === name ? "name" : "text",
    );
  }

  #sinkFor({ count, plain, before, take }: RowTaker, mark: DecimalMark): RowSink {
    const { separator } = this.#options;
    return {
      plain(numbers, rows, line, name) {
        count.rows += rows;
        count.used += rows;
        plain?.(numbers, rows, line, name);
      },
      before: (text, line) => before?.(splitLine(text, separator), line),
      other: (text, line) => {
        const cells = this.#cellsOf(text, mark);
        if (cells === null) return false;
        if (cells.length === 0) return true;
        take(cells, line, undefined, false);
        const last = cells[this.#options.columns.cellCount - 1] ?? "";
        this.mostDecimals = Math.max(this.mostDecimals, writtenDecimals(last, mark));
        return true;
      },
    };
  }

  /** The cells of a row, none for a blank line, null for a line that may mean more. */
  #cellsOf(text: string, mark: DecimalMark): readonly string[] | null {
    const { separator, declared, mapping } = this.#options;
    if (text.length > LONGEST_LINE || MARKS.test(text) || !isSimplyQuoted(text, separator)) return null;
    if (isBlank(text)) return [];
    if (isComment(text) || unitWord(text) !== null || namesColumns(text, declared, mapping)) return null;
    const cells = splitLine(text, separator);
    if (cells.every(isBlank)) return [];
    return this.#numbers.every((index) => saysOnlyItself(cells[index] ?? "", mark)) ? cells : null;
  }

  /** The last row, which has no line end. */
  #lastRow(from: number, line: number, mark: DecimalMark, taker: RowTaker): void {
    const { file, columns } = this.#options;
    this.stoppedAt = line;
    if (file.bytes.length - from > LONGEST_LINE) return;
    const text = strictly(partOf(file, from, file.bytes.length), "utf-8");
    const cells = text === null ? null : this.#cellsOf(text, mark);
    if (cells === null || cells.length > columns.cellCount || isBlank(cells.at(-1) ?? "0")) return;
    this.stoppedAt = null;
    if (cells.length > 0) taker.take(cells, line, undefined, true);
  }
}
