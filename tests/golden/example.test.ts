// The kept example is what the road gives today, by its facts: a stale one would teach newcomers what is no longer true.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { loadAssets } from "../../src/records/assets.ts";
import { extractPdf } from "../../src/report/print/extractPdf.ts";
import { renderReport } from "../../src/report/render.ts";
import { ISSUED, kept, recordOf, SAMPLES } from "./road.ts";

const FOLDER = fileURLToPath(new URL("../../reports/example/", import.meta.url));
const NAME = "K-0417_10_column-seat_r1";

describe("the kept example", () => {
  it("is the record of the first scenario", async () => {
    expect(readdirSync(FOLDER).sort()).toEqual(["html", "json", "pdf"].map((ending) => `${NAME}.${ending}`));
    const stored = JSON.parse(readFileSync(join(FOLDER, `${NAME}.json`), "utf8")) as SetupReport;
    expect(stored.report.issued).toBe(ISSUED);
    expect(kept(stored)).toBe(kept(await recordOf(join(SAMPLES, "1-column"))));
    expect(readFileSync(join(FOLDER, `${NAME}.html`), "utf8")).toBe(
      renderReport(stored, { assets: await loadAssets(), page: "a4" }),
    );
  });
  it("has a PDF that carries its record, its plan and its logs", async () => {
    const pdf = await extractPdf(readFileSync(join(FOLDER, `${NAME}.pdf`)));
    if (!pdf.ok) throw new Error(pdf.sentence);
    expect(pdf.attachments.map(({ name }) => name).sort()).toEqual([
      "as-found.csv",
      "as-left.csv",
      "ball.csv",
      "column-seat.yaml",
      "faces.csv",
      "report.json",
      "sign-offs.csv",
    ]);
    expect(pdf.pages[0]).toContain("UNDECIDED");
    expect(pdf.tagged).toBe(true);
  });
});
