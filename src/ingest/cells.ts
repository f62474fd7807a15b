import Papa from "papaparse";
import type { Separator } from "./adapters/contract.ts";
import { isBlank, isComment, type LogText } from "./logText.ts";

export interface Cells {
  readonly rows: readonly (readonly string[])[];
  readonly lines: readonly number[];
  readonly broken: ReadonlyMap<number, string>;
  readonly insideCells: ReadonlySet<number>;
}
const LONGEST_CELL_LINES = 20;

/** The cells of one line. */
export const splitLine = (line: string, separator: Separator): readonly string[] =>
  Papa.parse<string[]>(line, { delimiter: separator, newline: "\n" }).data[0] ?? [];

/** Whether quotation marks in the line, if there are any, only open and close whole cells. */
export function isSimplyQuoted(line: string, separator: Separator): boolean {
  if (!line.includes('"')) return true;
  const cell = `(?:"[^"]*"|[^"${separator}]*)`;
  return new RegExp(`^${cell}(?:${separator}${cell})*$`).test(line);
}

/** The rows of lines `from` to `to`, both counted, with the line each starts on. */
export function readCells(log: LogText, from: number, to: number, separator: Separator): Cells {
  if (to < from) return { rows: [], lines: [], broken: new Map(), insideCells: new Set() };
  const end = to >= log.lineCount ? undefined : log.from(to + 1).length;
  const tail = log.from(from);
  const text = end === undefined ? tail : tail.slice(0, tail.length - end - 1);
  const body = text.endsWith("\n") ? text.slice(0, -1) : text;
  if (!body.includes('"')) return byLines(parse(body, separator).data, from);
  return inOneGo(body, from, separator) ?? lineByLine(log, from, to, separator);
}

const parse = (text: string, separator: Separator) =>
  Papa.parse<string[]>(text, { delimiter: separator, newline: "\n" });

const isRow = (cells: readonly string[]): boolean =>
  !isComment(cells[0] ?? "") && !cells.every((cell) => cell === "" || isBlank(cell));

function byLines(data: readonly string[][], from: number): Cells {
  const rows: string[][] = [];
  const lines: number[] = [];
  data.forEach((cells, index) => {
    if (!isRow(cells)) return;
    rows.push(cells);
    lines.push(from + index);
  });
  return { rows, lines, broken: new Map(), insideCells: new Set() };
}

/** Quoted text whose quotation marks all agree; null when they do not, or a remark could open one. */
function inOneGo(body: string, from: number, separator: Separator): Cells | null {
  if (/^[^\S\n]*#[^\n]*"/m.test(body)) return null;
  const { data, errors } = parse(body, separator);
  if (errors.length > 0) return null;
  const rows: string[][] = [];
  const lines: number[] = [];
  const insideCells = new Set<number>();
  let line = from;
  for (const cells of data) {
    if (isRow(cells)) {
      rows.push(cells);
      lines.push(line);
    }
    let breaks = 0;
    for (const cell of cells) if (cell.includes("\n")) breaks += cell.split("\n").length - 1;
    for (let inside = 1; inside <= breaks; inside++) insideCells.add(line + inside);
    line += 1 + breaks;
  }
  return { rows, lines, broken: new Map(), insideCells };
}

/** The long way for text with a stray quotation mark: it must not swallow the rows below it. */
function lineByLine(log: LogText, from: number, to: number, separator: Separator): Cells {
  const rows: (readonly string[])[] = [];
  const lines: number[] = [];
  const broken = new Map<number, string>();
  const insideCells = new Set<number>();
  for (let line = from; line <= to; line++) {
    const first = log.line(line);
    if (isBlank(first) || isComment(first)) continue;
    const record = oneRecord(log, line, to, separator);
    if (record === null)
      broken.set(rows.length, "a quotation mark in it is opened or closed in the wrong place");
    else if (!isRow(record.cells)) continue;
    rows.push(record?.cells ?? [first]);
    lines.push(line);
    const taken = record?.taken ?? 1;
    for (let inside = 1; inside < taken; inside++) insideCells.add(line + inside);
    line += taken - 1;
  }
  return { rows, lines, broken, insideCells };
}

function oneRecord(
  log: LogText,
  line: number,
  to: number,
  separator: Separator,
): { cells: readonly string[]; taken: number } | null {
  let text = log.line(line);
  for (let taken = 1; taken <= LONGEST_CELL_LINES; taken++) {
    const { data, errors } = parse(text, separator);
    if (errors.length === 0) return { cells: data[0] ?? [], taken };
    if (errors.some((error) => error.code !== "MissingQuotes") || line + taken > to) return null;
    text += `\n${log.line(line + taken)}`;
  }
  return null;
}
