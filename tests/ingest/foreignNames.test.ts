// The column of features under another name, alone or below the title of a sheet.
import { describe, expect, it } from "vitest";
import { codes, decision, feature, planWith, rejected, understood } from "./helpers.ts";

const inMm = planWith({ logs: { unit: "mm" } });
const names = (text: string, plan = inMm): string[] =>
  understood(text, plan).features.map(({ name }) => name);
const ROWS = "f0;1,5;2,5;3,5\nf0;2,5;2,5;3,5\nf1;1,5;2,5;3,5\n";

describe("a column of features under another name", () => {
  it.each(["Merkmal", "Element", "Feature name", "feature_name", "FeatureID", "Messelement", "MERKMALSNAME"])(
    "%s",
    (word) => {
      expect(names(`${word};X;Y;Z\n${ROWS}`)).toEqual(["f0", "f1"]);
      expect(decision(understood(`${word};X;Y;Z\n${ROWS}`, inMm), "columns")).toContain(`feature = ${word}`);
    },
  );
  it("below the title of a sheet, which is then no feature", () => {
    const log = understood(`Blatt 1\nMerkmal;X;Y;Z\n${ROWS}`, inMm);
    expect(log.features.map(({ name }) => name)).toEqual(["f0", "f1"]);
    expect(codes(log)).toEqual(["warning line-not-read"]);
  });
  it("of a sweep", () => {
    expect(
      names(
        "Merkmal,angle,reading\nrim,0,0.1\n",
        planWith({
          logs: { unit: "mm" },
          features: { rim: { from: "face-sweep", radiusMm: 10 } },
        }),
      ),
    ).toEqual(["rim"]);
  });
  it("is not taken where another column is the features', the plan's or could be meant", () => {
    expect(names(`feature;Element;X;Y;Z\na;Ebene;1,5;2,5;3,5\nb;Ebene;1,5;2,5;3,5\n`)).toEqual(["a", "b"]);
    expect(names(`# feature: a\nMerkmal;X;Y;Z\n${ROWS}`)).toEqual(["a"]);
    const constant = planWith({ logs: { unit: "mm", constant: { feature: "a" } } });
    expect(names(`Merkmal;X;Y;Z\n${ROWS}`, constant)).toEqual(["a"]);
    expect(rejected(`Name;Element;X;Y;Z\nq;${ROWS.split("\n")[0]}\n`, inMm).finding.code).toBe(
      "no-feature-name",
    );
  });
});

describe("a title above rows that say different words", () => {
  const sheet = (column: string, words: readonly string[]): string =>
    `Blatt 1\n${column};X;Y;Z\n${words.map((word, i) => `${word};${i},5;2,5;3,5`).join("\n")}\n`;
  it("is the feature's name, with a warning that names the column", () => {
    const log = understood(sheet("Flansch", ["oben", "unten"]), inMm);
    expect(feature(log).name).toBe("Blatt 1");
    expect(log.findings).toMatchObject([{ level: "warning", code: "names-not-used", line: 3 }]);
    expect(log.findings[0]?.text.text).toBe(
      "all rows were taken for Blatt 1, the title above them, but the column Flansch says oben and unten; if it names the features, say feature: Flansch under logs.columns in the plan",
    );
  });
  it("says nothing of columns with one word, numbers, or labels of points", () => {
    expect(codes(understood(sheet("Flansch", ["oben", "oben"]), inMm))).toEqual([]);
    expect(codes(understood(sheet("Flansch", ["1", "2"]), inMm))).toEqual([]);
    expect(codes(understood(sheet("Punkt", ["P1", "P2"]), inMm))).toEqual([]);
  });
});
