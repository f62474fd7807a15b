// The gallery leaves nothing out: a picture or a page that nobody can look at is one that nobody looks at.
import { parse } from "node-html-parser";
import { beforeAll, describe, expect, it } from "vitest";
import { ADVICE_PLOTS, CORRECTION_PLOTS, FEATURE_PLOTS, RESULT_PLOTS } from "../../src/report/plots/index.ts";
import { galleryFiles } from "./gallery.ts";

let files: Readonly<Record<string, string>> = {};
beforeAll(async () => {
  files = await galleryFiles();
});

describe("the gallery", () => {
  it.each([...FEATURE_PLOTS, ...ADVICE_PLOTS, ...RESULT_PLOTS, ...CORRECTION_PLOTS].map(({ name }) => name))(
    "shows %s with a caption",
    (name) => {
      const part = parse(files["index.html"] ?? "").querySelector(`#plot-${name}`);
      const figures = part?.querySelectorAll("figure") ?? [];
      expect(figures.length).toBeGreaterThan(0);
      for (const figure of figures) {
        expect(figure.querySelector("svg")?.getAttribute("aria-label")?.length).toBeGreaterThan(10);
        expect(figure.querySelector("figcaption")?.text.length).toBeGreaterThan(20);
      }
    },
  );

  it("leads to every page, and each is a whole one", () => {
    const links = parse(files["index.html"] ?? "")
      .querySelectorAll("#pages a")
      .map((link) => link.getAttribute("href") ?? "");
    expect(links.length).toBeGreaterThan(10);
    expect(["index.html", ...links].sort()).toEqual(Object.keys(files).sort());
    for (const name of links) {
      expect(files[name], name).toMatch(/^<!DOCTYPE html>/);
      expect(files[name], name).toMatch(/<\/html>\s*$/);
    }
  });

  it("shows crowds among the faces, rounds and travels", () => {
    const page = parse(files["index.html"] ?? "");
    for (const kind of ["plane-map", "round-form", "line-chart"])
      expect(page.querySelector(`#plot-${kind} .crowd`), kind).not.toBeNull();
  });
});
