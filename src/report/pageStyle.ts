import { cleanText } from "./cleanText.ts";

export type PageSize = "a4" | "letter";
const SIZES: Readonly<Record<PageSize, string>> = { a4: "A4", letter: "letter" };

/** What stands in the margins of every sheet. */
export interface Margins {
  readonly left: string;
  readonly middle: string;
  /** Text with `{page}` and `{pages}`. */
  readonly pageOf: string;
}

/** Size and margin boxes of the sheets. The browser counts the pages; the texts are escaped for CSS. */
export function pageStyle(size: PageSize, margins: Margins): string {
  const look = 'font:400 7.8pt/1.2 "Plinth Sans",sans-serif;color:#49535a;vertical-align:top;padding-top:3mm';
  const box = (place: string, align: string, width: number, content: string): string =>
    `@bottom-${place}{content:${content};width:${width}%;text-align:${align};${look}}`;
  const [before = "", between = "", after = ""] = margins.pageOf.split(/\{pages?\}/);
  const counter = `${quoted(before)} counter(page) ${quoted(between)} counter(pages) ${quoted(after)}`;
  return (
    `@page{size:${SIZES[size]};margin:13mm 14mm 17mm;` +
    box("left", "left", 44, quoted(margins.left)) +
    box("center", "center", 36, quoted(margins.middle)) +
    `${box("right", "right", 20, counter)}}`
  );
}

/** A CSS string: everything but plain letters and digits is written by its code, so that nothing can end it. */
const quoted = (text: string): string =>
  `"${[...cleanText(text)].map((one) => (/[A-Za-z0-9 ._]/.test(one) ? one : `\\${(one.codePointAt(0) ?? 0x20).toString(16)} `)).join("")}"`;
