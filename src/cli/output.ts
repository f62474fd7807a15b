import { isTerminal, write } from "./streams.ts";

/** Styles for a terminal, of text made safe; plain text in a pipe, with NO_COLOR, or on a dumb terminal. */
export interface Style {
  bold(text: string): string;
  dim(text: string): string;
  inverse(text: string): string;
  /** Columns for sentences. */
  readonly width: number;
  /** Columns of the window, for tables; without end where there is none. */
  readonly window: number;
}

/** Longer lines are hard to read, shorter ones hold hardly a sentence. */
const WIDEST = 100;
const NARROWEST = 40;

/** The styles of an output, by whether it is a terminal (https://no-color.org: any value that is not empty switches them off). */
export function styleFor(terminal: boolean, columns = WIDEST): Style {
  const { NO_COLOR, TERM } = process.env;
  const on = terminal && (NO_COLOR === undefined || NO_COLOR === "") && TERM !== "dumb";
  const wrap = (code: number, off: number) => (text: string) =>
    on ? `\x1b[${code}m${safe(text)}\x1b[${off}m` : safe(text);
  const width = Math.max(NARROWEST, Math.min(WIDEST, columns));
  const window = terminal ? Math.max(NARROWEST, columns) : Number.POSITIVE_INFINITY;
  return { bold: wrap(1, 22), dim: wrap(2, 22), inverse: wrap(7, 27), width, window };
}

/** The styles of what is printed to stdout. */
export const printStyle = (): Style =>
  // A terminal that does not know its width says 0.
  isTerminal("stdout") ? styleFor(true, process.stdout.columns || WIDEST) : styleFor(false);

/** Prints to stdout, with a line end. */
export const print = (text: string): void => write("stdout", `${text}\n`);
/** Prints to stderr, with a line end: what went wrong, or what is going on. */
export const tell = (text: string): void => write("stderr", `${text}\n`);

/**
 * Control characters of a log must not drive the terminal: they are shown as a question mark in a box.
 * Line ends and tabs stay.
 */
export const safe = (text: string): string =>
  text.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, "\ufffd");

/** Text of a log that may be of any length, cut for a terminal with a word on how long it was; the JSON has all of it. */
export function clipped(text: string, most: number): string {
  const letters = [...text];
  if (letters.length <= most) return text;
  return `${letters.slice(0, most).join("")}... (${letters.length} characters)`;
}
const WIDEST_CELL = 160;

export interface Column {
  readonly title: string;
  readonly align?: "left" | "right";
}
/** A table with columns as wide as their widest cell, two blanks apart; in a window too narrow for it each row stands as a list. */
export function table(
  columns: readonly Column[],
  cells: readonly (readonly string[])[],
  window = Number.POSITIVE_INFINITY,
): string {
  const rows = cells.map((row) => row.map((cell) => clipped(cell, WIDEST_CELL)));
  const widths = columns.map((column, i) =>
    Math.max(column.title.length, ...rows.map((row) => (row[i] ?? "").length)),
  );
  const line = (row: readonly string[]): string =>
    row
      .map((cell, i) => {
        const width = widths[i] ?? 0;
        return columns[i]?.align === "right" ? cell.padStart(width) : cell.padEnd(width);
      })
      .join("  ")
      .trimEnd();
  const lines = [line(columns.map((column) => column.title)), ...rows.map(line)];
  return lines.every((text) => text.length <= window)
    ? lines.join("\n")
    : rows.map((row) => listed(columns, row, window)).join("\n");
}

/** A row under its name, which ends with the first cell that has a title. */
function listed(columns: readonly Column[], row: readonly string[], window: number): string {
  const named = columns.findIndex(({ title }) => title !== "") + 1;
  const longest = Math.max(...columns.slice(named).map(({ title }) => title.length));
  const cells = row.slice(named).flatMap((cell, i) => {
    const title = columns[named + i]?.title ?? "";
    return cell === "" ? [] : [wrap(`  ${title.padEnd(longest)}  ${cell}`, window, "    ")];
  });
  return [row.slice(0, named).join("  "), ...cells].join("\n");
}

/** Breaks text at blanks so that no line is longer than `width`, never between a number and its unit; further lines are indented. */
export function wrap(text: string, width: number, indent = ""): string {
  const lines: string[] = [];
  const first = /^ */.exec(text)?.[0] ?? "";
  let current = "";
  for (const word of text.slice(first.length).split(/(?<!\d) | (?!(?:mm|in|um|N·m)\b)/)) {
    const start = lines.length === 0 ? first : indent;
    if (current !== "" && start.length + current.length + 1 + word.length > width) {
      lines.push((start + current).trimEnd());
      current = word;
    } else current = current === "" ? word : `${current} ${word}`;
  }
  lines.push((lines.length === 0 ? first : indent) + current);
  return lines.join("\n");
}
