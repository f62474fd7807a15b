// Letters stand out from their ground by 4.5 to 1 or more, and lines that carry meaning by 3 to 1: WCAG 2.2, 1.4.3 and 1.4.11.
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type HTMLElement, parse } from "node-html-parser";
import { describe, expect, it } from "vitest";
import { pageStyle } from "../../src/report/pageStyle.ts";
import { renderReport } from "../../src/report/render.ts";
import { recordOf, SAMPLES } from "../golden/road.ts";
import { assets, pictureReport } from "./fixtures.ts";

const folder = fileURLToPath(new URL("../../templates/styles/", import.meta.url));
const sheets = readdirSync(folder).map((file) => [file, readFileSync(folder + file, "utf8")] as const);
const variables = Object.fromEntries(
  sheets.flatMap(([, css]) =>
    [...css.matchAll(/(--[a-z]+):\s*(#[0-9a-f]+)/g)].map(([, name, hex]) => [name, hex]),
  ),
);
const WORDS: Readonly<Record<string, string>> = { white: "#ffffff", black: "#000000" };

/** A colour of a style sheet as six digits; null for one that is taken from elsewhere. */
function hexOf(written: string): string | null {
  const value = written.replace(/var\((--[a-z]+)\)/, (_, name: string) => variables[name] ?? "");
  const hex = WORDS[value] ?? value;
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/.exec(hex);
  if (short !== null)
    return `#${short
      .slice(1)
      .map((one) => one + one)
      .join("")}`;
  return /^#[0-9a-f]{6}$/.test(hex) ? hex : null;
}
function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
function contrast(a: string, b: string): number {
  const [high = 0, low = 0] = [luminance(a), luminance(b)].sort((one, other) => other - one);
  return (high + 0.05) / (low + 0.05);
}

interface Rule {
  readonly file: string;
  readonly selector: string;
  readonly color: string | null;
  readonly ground: string | null;
}
const rules: readonly Rule[] = sheets.flatMap(([file, css]) =>
  [...css.replace(/\/\*[\s\S]*?\*\//g, "").matchAll(/([^{}]+)\{([^{}]*)\}/g)].map(
    ([, selector = "", body = ""]) => {
      const found = (name: string): string | null => {
        const written = new RegExp(`(?:^|[;\\s])${name}:\\s*([^;!]+)`).exec(body)?.[1]?.trim() ?? "";
        return hexOf(written);
      };
      return {
        file,
        selector: selector.trim(),
        color: found("color"),
        ground: found("background") ?? found("background-color"),
      };
    },
  ),
);
const grounds = rules.filter((rule) => rule.ground !== null);
const letters = rules.filter((rule) => rule.color !== null);

describe("the measure", () => {
  it("gives the values of the standard's own formula", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 9);
    // From memory: #767676 is the lightest grey that still passes on white.
    expect(contrast("#767676", "#ffffff")).toBeGreaterThan(4.5);
    expect(contrast("#777777", "#ffffff")).toBeLessThan(4.5);
  });
  it("finds the colours of the styles", () => {
    expect(letters.length).toBeGreaterThan(8);
    expect(grounds.length).toBeGreaterThan(4);
    expect(Object.keys(variables)).toEqual(expect.arrayContaining(["--ink", "--soft", "--tint"]));
  });
});

describe("letters", () => {
  const light = [
    "#ffffff",
    ...grounds.flatMap(({ ground }) => (ground !== null && luminance(ground) > 0.5 ? [ground] : [])),
  ];
  it.each(letters.filter(({ color, ground }) => ground === null && color !== null && luminance(color) < 0.5))(
    "of $file, $selector, stand out from every light ground",
    ({ color }) => {
      for (const ground of light) expect(contrast(color ?? "", ground), ground).toBeGreaterThanOrEqual(4.5);
    },
  );
  it.each(rules.filter(({ ground }) => ground !== null))(
    "of $file, $selector, stand out from their own ground",
    (rule) => {
      const color = rule.color ?? variables["--ink"] ?? "";
      if (luminance(rule.ground ?? "") < 0.2 && rule.color === null)
        expect(rule.selector).toMatch(/shape|::|before|after|fill|bar/);
      else expect(contrast(color, rule.ground ?? "")).toBeGreaterThanOrEqual(4.5);
    },
  );
  it("in the margins of the sheets stand out", () => {
    const css = pageStyle("a4", { left: "a", middle: "b", pageOf: "{page} of {pages}" });
    const colors = [...css.matchAll(/color:(#[0-9a-f]{6})/g)].map(([, hex]) => hex ?? "");
    expect(colors.length).toBeGreaterThan(0);
    for (const hex of colors) expect(contrast(hex, "#ffffff")).toBeGreaterThanOrEqual(4.5);
  });
});

describe("pictures", () => {
  const drawn = async (): Promise<readonly HTMLElement[]> =>
    [pictureReport, await recordOf(`${SAMPLES}2-chuck-and-blank`)].flatMap((record) =>
      parse(renderReport(record, { assets, page: "a4" })).querySelectorAll("svg"),
    );
  /** Lines that only help the eye along: their meaning stands in other marks. */
  const HELPERS = new Set(["#c5ced4", "#a6b4bd", "#8d979e", "#ffffff"]);

  it("have lines and marks that stand out from paper", async () => {
    const strokes = new Set(
      (await drawn()).flatMap((svg) =>
        svg.querySelectorAll("[stroke]").map((node) => hexOf(node.getAttribute("stroke") ?? "") ?? ""),
      ),
    );
    strokes.delete("");
    expect(strokes.size).toBeGreaterThan(2);
    for (const hex of strokes)
      if (!HELPERS.has(hex)) expect(contrast(hex, "#ffffff"), hex).toBeGreaterThanOrEqual(3);
  });
  it("have no colour: a grey print loses nothing", async () => {
    const fills = (await drawn()).flatMap((svg) =>
      svg
        .querySelectorAll("[fill], [stroke]")
        .flatMap((node) => [node.getAttribute("fill"), node.getAttribute("stroke")]),
    );
    const hexes = new Set(fills.flatMap((one) => hexOf(one ?? "") ?? []));
    for (const hex of hexes) {
      const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) =>
        Number.parseInt(hex.slice(at, at + 2), 16),
      );
      expect(Math.max(red, green, blue) - Math.min(red, green, blue), hex).toBeLessThan(48);
    }
  });
  it("have tones that stay apart in grey", async () => {
    const svg = (await drawn()).find(
      (one) => one.querySelectorAll("rect").length > 2 && one.querySelector("[clip-path]"),
    );
    const tones = [...new Set(svg?.querySelectorAll("rect").map((rect) => rect.getAttribute("fill") ?? ""))];
    expect(tones.length).toBeGreaterThan(2);
    const grey = tones.map(luminance).sort((a, b) => a - b);
    grey.slice(1).forEach((one, index) => {
      expect((one + 0.05) / ((grey[index] ?? 0) + 0.05)).toBeGreaterThan(1.15);
    });
  });
  it("have letters over tones only with a white seam", async () => {
    for (const svg of await drawn())
      for (const text of svg.querySelectorAll("text")) {
        const over =
          svg.querySelector("[clip-path]") !== null && text.getAttribute("class")?.includes("strong");
        if (over && !/middle/.test(text.getAttribute("text-anchor") ?? ""))
          expect(text.getAttribute("class")).toContain("halo");
      }
  });
});
