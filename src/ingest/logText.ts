/** The lines of a log, numbered from 1, without making a string of each. */
export class LogText {
  readonly text: string;
  readonly lineCount: number;
  /** Whether the last line has its line end. */
  readonly ended: boolean;
  readonly #starts: Int32Array;

  constructor(text: string) {
    this.text = text;
    this.ended = text.endsWith("\n");
    let count = 1;
    for (let at = text.indexOf("\n"); at !== -1; at = text.indexOf("\n", at + 1)) count++;
    const starts = new Int32Array(count + 1);
    let line = 1;
    for (let at = text.indexOf("\n"); at !== -1; at = text.indexOf("\n", at + 1)) starts[line++] = at + 1;
    starts[count] = text.length + 1;
    this.#starts = starts;
    this.lineCount = this.ended ? count - 1 : count;
  }

  /** Line `number` without its line end; empty outside the log. */
  line(number: number): string {
    const start = this.#starts[number - 1];
    const next = this.#starts[number];
    return start === undefined || next === undefined ? "" : this.text.slice(start, next - 1);
  }

  /** Characters of line `number`. */
  lengthOf(number: number): number {
    return Math.max(0, (this.#starts[number] ?? 0) - (this.#starts[number - 1] ?? 0) - 1);
  }

  /** Everything from the start of line `number` on. */
  from(number: number): string {
    return this.text.slice(this.#starts[number - 1] ?? this.text.length);
  }
}

const BLANK = /^[\s\u0000\u00a0\u202f\u2009\ufeff]*$/;
export const isBlank = (text: string): boolean => BLANK.test(text);

const COMMENT = /^[\s\ufeff]*"?#/;
/** `# key: value` lines and other remarks. */
export const isComment = (line: string): boolean => COMMENT.test(line);

const EDGE = /[\s\u0000\u00a0\u202f\u2009\ufeff]/;
/** Whether a blank stands there. Letters, digits and marks, which stand at most edges, are told apart at once. */
function blankAt(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code <= 0x20 ? code === 0x20 || EDGE.test(text[at]!) : code > 0x7e && EDGE.test(text[at]!);
}
/** Blanks of every kind at both ends taken off, the padding of serial lines included. */
export function trimmed(text: string): string {
  let [from, to] = [0, text.length];
  while (from < to && blankAt(text, from)) from++;
  while (to > from && blankAt(text, to - 1)) to--;
  return text.slice(from, to);
}
