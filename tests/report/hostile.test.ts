// Names and sentences from outside are inert: they change words on the page, never its markup, style or order.
import { parse } from "node-html-parser";
import { describe, expect, it } from "vitest";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { renderReport } from "../../src/report/render.ts";
import { assets, pictureReport } from "./fixtures.ts";

/** Words that our own pipeline chooses: their types allow nothing else. */
const OWN = new Set([
  "schema",
  "verdict",
  "rule",
  "unit",
  "angleUnit",
  "show",
  "language",
  "kind",
  "where",
  "state",
  "fit",
  "proof",
  "status",
  "level",
  "quantity",
  "judged",
]);

/** The record with every text from outside, and every name, replaced. */
function withTexts(value: unknown, text: string, key = ""): unknown {
  if (typeof value === "string") return OWN.has(key) ? value : text;
  if (Array.isArray(value)) return value.map((one) => withTexts(one, text, key));
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).map(([name, one]) => [name, withTexts(one, text, name)] as const);
  if (key === "features") return Object.fromEntries(entries.map(([name, one]) => [`${text}${name}`, one]));
  return Object.fromEntries(entries);
}
const render = (text: string): string =>
  renderReport(withTexts({ ...pictureReport, wording: {} }, text) as SetupReport, { assets, page: "a4" });
const skeleton = (html: string): string[] =>
  parse(html, { comment: true })
    .querySelectorAll("*")
    .map((one) => `${one.tagName} ${one.getAttribute("id") ?? ""} ${Object.keys(one.attributes).sort()}`);

const benign = skeleton(render("plain words"));
const attacks: readonly (readonly [string, string])[] = [
  ["a script", '<script>alert(1)</script><img src=x onerror="alert(1)">'],
  ["the end of a style", "</style><style>body{display:none}</style>"],
  ["the end of a comment and of the document", "--></main></body></html><!--"],
  ["quotes of every kind", `" onload="x" ' onload='x' \` \\`],
  ["entities", "&lt;b&gt; &#60;script&#62; &amp;"],
  ["a template", "{{#each report}}{{{this}}}{{/each}} {{> card}} {text} {page}"],
  ["a formula", "=HYPERLINK(1) +1 -1 @SUM(A1)"],
  ["CSS", '"} @import url(http://127.0.0.1/x); .verdict{display:none} /*'],
  ["an address", "javascript:alert(1) http://127.0.0.1/ file:///etc/passwd"],
  ["names of the language itself", "__proto__"],
  ["constructor", "constructor"],
];

describe("texts from outside", () => {
  it.each(attacks)("%s stays text", (_, attack) => {
    const html = render(attack);
    expect(skeleton(html)).toEqual(benign);
    const page = parse(html);
    expect(page.querySelectorAll("script, img, iframe")).toEqual([]);
    expect(page.querySelector(".identity dd")?.text).toBe(attack);
    // The margin boxes carry the id: nothing in it can end the string or the element.
    expect(html.match(/<\/style/g)).toHaveLength(2);
    const strings = /content:"((?:[A-Za-z0-9 ._]|\\[0-9a-f]+ )*)"/;
    expect(html).toMatch(strings);
    for (const style of page.querySelectorAll("style")) expect(style.text).not.toContain("@import");
  });

  it("shows control characters, direction marks and half characters as nothing or a blank", () => {
    const nasty = "a\u0000b\u0007c\u001bd\u202ee\u2066f\u200fg\ufeffh\ud800i\u2028j\u0085k";
    const html = render(nasty);
    expect(skeleton(html)).toEqual(benign);
    expect(html).not.toMatch(
      /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/,
    );
    expect(html).not.toMatch(/\p{Cs}/u);
    expect(parse(html).querySelector(".identity dd")?.text).toBe("a b c defgh\ufffdi j k");
  });

  it("limits marks that are stacked upon one letter", () => {
    expect(render(`e${"\u0301".repeat(500)}`)).not.toMatch(/\u0301{5}/);
  });

  it("cuts a name of 10 kB, says how long it was, and keeps the page small", () => {
    const long = "x".repeat(10_000);
    const html = render(long);
    expect(parse(html).querySelector(".identity dd")?.text).toBe(
      `${"x".repeat(90)}… (10000 characters, in full in the JSON record)`,
    );
    expect(html.length).toBeLessThan(render("plain words").length + 200_000);
    expect(html.includes("x".repeat(1_000))).toBe(false);
    expect(Object.values(assets.styles).join("\n")).toContain("overflow-wrap: anywhere");
  });

  it("does not cut a character in two", () => {
    expect(render(`${"x".repeat(89)}\u{1f9f0}${"y".repeat(50)}`)).not.toContain("\ufffd");
  });
});
