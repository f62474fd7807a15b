import { describe, expect, it } from "vitest";
import { ADAPTERS } from "../../src/ingest/adapters/index.ts";
import { LogText } from "../../src/ingest/logText.ts";
import { isRefusal, Notebook } from "../../src/ingest/notebook.ts";
import { sourceOf } from "../../src/ingest/openLog.ts";
import type { Plan } from "../../src/model/plan/plan.ts";
import { codes, decision, feature, leftOut, planWith, points, sentence, understood } from "./helpers.ts";

const FOUR_ANGLES = [0, 90, 180, 270].map((degrees) => ({
  sweep: "face",
  position: null,
  angle: (degrees * Math.PI) / 180,
  x: null,
  y: null,
}));

/** Logs as they really come, one of each shape, made up for these tests. */
const SAMPLES: Readonly<Record<string, { text: string; plan: Plan | null }>> = {
  csv: { text: "# unit: mm\nfeature,x,y,z\nface-0,1,2,3\n", plan: null },
  "printed-text": {
    text: "%\rO0815 (FACE B0)\rX   2.7000 Y   0.0000 Z   0.2702\rX   0.0000 Y   2.7000 Z   0.2426\rX-  1.9092 Y   1.9092 Z****.****\rX-2.7000Y0.0000Z-0.2702\r%\r",
    plan: planWith({ logs: { unit: "in" } }),
  },
  "key-value": {
    text: "pt=1 x=-12.5178 z=-15.7411 b=0 tip=center unit=in\nb=90 pt=2 z=-22.9832 x=-8.2406 unit=in tip=center\n",
    plan: planWith({ features: { ball: { fit: "point" } } }),
  },
  blocks: {
    text: "FACE B90,,,\nangle,reading\n0,.0006\n90,.0002\n180,-.0004\n270,0\n0,.0006\n\nFACE B0,,,\nangle,reading\n0,.0001\n90,.0002\n",
    plan: planWith({
      logs: { unit: "in" },
      features: {
        "face-b90": { from: "face-sweep", radiusMm: 127 },
        "face-b0": { from: "face-sweep", radiusMm: 127 },
      },
    }),
  },
  "bare-readings": {
    text: '0.0000\n0.0012"\n-0.0004\noops\n-.0003\n',
    plan: planWith({
      logs: { order: FOUR_ANGLES },
      features: { face: { from: "face-sweep", radiusMm: 100 } },
    }),
  },
  "results-table": { text: "# unit: mm\nfeature;diameter;x;y\nbore;100,012;0,1;-0,25\n", plan: null },
};

describe("the shelf of shapes", () => {
  it("has a sample of each member", () => {
    expect(Object.keys(SAMPLES).sort()).toEqual(ADAPTERS.map((adapter) => adapter.id).sort());
  });
  it.each(Object.entries(SAMPLES))(
    "%s is recognised by itself alone, with evidence",
    (id, { text, plan }) => {
      const log = new LogText(text.replaceAll("\r", "\n"));
      const source = sourceOf("log", log, plan, new Notebook("log"));
      if (isRefusal(source)) throw new Error(source.finding.text.text);
      const knowing = ADAPTERS.filter((adapter) => adapter.recognise(source) !== null);
      expect(knowing.map((adapter) => adapter.id)).toEqual([id]);
      expect(decision(understood(text, plan), "shape")).toMatch(new RegExp(`^${id}: .{10}`));
    },
  );
});

describe("printed text", () => {
  const { text, plan } = SAMPLES["printed-text"]!;
  it("takes glued letters, leading blanks and a split sign, and leaves out an overflow", () => {
    const log = understood(text, plan);
    expect(points(log, "FACE B0")).toEqual([
      [2.7 * 25.4, 0, 0.2702 * 25.4],
      [0, 2.7 * 25.4, 0.2426 * 25.4],
      [-2.7 * 25.4, 0, -0.2702 * 25.4],
    ]);
    expect(leftOut(log)).toEqual(["5: z: ****.**** stands for a missing value"]);
    expect(decision(log, "split sign")).toBe(
      "belongs to the number behind it: X-  1.9092 in line 5: printed with a fixed width",
    );
    expect(decision(log, "line ends")).toBe("CR: found in the file");
  });
  it("reads a split sign as part of the number", () => {
    expect(points(understood("(F)\nX-  1.9092 Y   1.9092 Z   0.5\n", plan))).toEqual([
      [-1.9092 * 25.4, 1.9092 * 25.4, 0.5 * 25.4],
    ]);
  });
  it("starts a feature at each remark in brackets, and takes key: value in brackets as header", () => {
    const log = understood("%\n(UNIT: MM)\n(A)\nX1. Y2. Z3.\n(B)\nX4. Y5. Z6. B90.\n%\n");
    expect(log.features.map((entry) => entry.name)).toEqual(["A", "B"]);
    expect(points(log, "B")).toEqual([[4, 5, 6]]);
  });
  it("leaves out a line it cannot divide", () => {
    const log = understood(
      "(A)\nX1. Y2. Z3.\nX1. X2. Z3.\nX1. Y2. Z3 4\nX1. Y2. Z4.\n",
      planWith({ logs: { unit: "mm" } }),
    );
    expect(log.record.excluded.map((row) => row.line)).toEqual([3, 4]);
    expect(points(log)).toEqual([
      [1, 2, 3],
      [1, 2, 4],
    ]);
  });
  it("takes a colon behind the number of a touch", () => {
    const log = understood("(UNIT: MM)\n(A)\nP1: X1. Y2. Z3.\nP2: X1. Y2. Z4.\n");
    expect(points(log, "A")).toEqual([
      [1, 2, 3],
      [1, 2, 4],
    ]);
  });
  it("is no program: motion words are not touches", () => {
    expect(sentence("O1\nG1 X1. Y2. Z3. F100\nG1 X1. Y2. Z4.\n", plan)).toContain(
      "no line names the columns",
    );
  });
});

describe("name=value lines", () => {
  const { text, plan } = SAMPLES["key-value"]!;
  it("takes keys in any order, the unit and the tip from the line, B in radians", () => {
    const log = understood(text, plan);
    expect(points(log)).toEqual([
      [-12.5178 * 25.4, 0, -15.7411 * 25.4],
      [-8.2406 * 25.4, 0, -22.9832 * 25.4],
    ]);
    expect([...(feature(log).readings.b ?? [])]).toEqual([0, Math.PI / 2]);
    expect(feature(log).tip).toEqual({ points: "ball-center", radiusMm: null });
    expect(codes(log)).toEqual(["warning axis-not-in-log"]);
  });
  it("takes a unit that changes from line to line for each line", () => {
    const log = understood("feature=f x=1 y=2 z=3 unit=mm\nfeature=f x=1 y=2 z=3 unit=in\n");
    expect(points(log)).toEqual([
      [1, 2, 3],
      [25.4, 50.8, 3 * 25.4],
    ]);
  });
  it("asks when something else changes within the log", () => {
    expect(
      sentence("feature=f x=1 y=2 z=3 unit=mm tip=center\nfeature=f x=1 y=2 z=3 unit=mm tip=surface\n"),
    ).toBe(
      "log.csv, line 2: tip=surface here but tip=center in line 1; split the log so that each says one thing",
    );
  });
  it.each(["POINT 1 ", "P1: ", "1) ", "Punkt 1: ", "no. 1 ", ""])(
    "may begin with their number: %s",
    (label) => {
      const line = (z: number) => `${label.replace("1", String(z))}X= 1.5 Y= -2.5 Z= ${z}.5\n`;
      const log = understood(`# feature: f\n# unit: mm\n${line(1)}${line(2)}`);
      expect(points(log, "f")).toEqual([
        [1.5, -2.5, 1.5],
        [1.5, -2.5, 2.5],
      ]);
    },
  );
  it("leave no word behind that could name a feature", () => {
    expect(sentence("# unit: mm\nface-0 x=1 y=2 z=3\nface-1 x=1 y=2 z=4\n")).toContain("no line names");
    const log = understood("# feature: f\n# unit: mm\n1 x=1 y=2 z=3\nlid 2 x=1 y=2 z=4\n");
    expect(leftOut(log)).toEqual([expect.stringMatching(/^4: .*not name=value pairs/)]);
  });
  it("leaves out a damaged line", () => {
    const log = understood(
      "feature=f x=1 y=2 z=3 unit=mm\nfeature=f x=1 y=2 z=\nfeature=f x=1 x=2 z=3 y=1\n",
    );
    expect(log.record.excluded.map((row) => row.line)).toEqual([2, 3]);
  });
  it("reads sweeps as well", () => {
    const log = understood(
      "sweep=s angle=0 reading=0,5 unit=mm\nsweep=s angle=90 reading=0,25 unit=mm\n",
      planWith({ features: { s: { from: "face-sweep", radiusMm: 10 } } }),
    );
    expect([...(feature(log).sweep?.reading ?? [])]).toEqual([0.5, 0.25]);
  });
});

describe("blocks under titles", () => {
  const { text, plan } = SAMPLES.blocks!;
  it("names features after their titles and keeps the closure apart", () => {
    const log = understood(text, plan);
    expect(log.features.map((entry) => [entry.name, entry.readings.x.length, entry.closureMm])).toEqual([
      ["face-b90", 4, 0],
      ["face-b0", 2, undefined],
    ]);
    expect([...(feature(log, "face-b90").sweep?.reading ?? [])]).toEqual(
      [0.0006, 0.0002, -0.0004, 0].map((inch) => inch * 25.4),
    );
    expect([...feature(log, "face-b0").readings.line]).toEqual([11, 12]);
  });
  it("asks for the unit that nobody states", () => {
    expect(sentence(text, planWith({ features: plan?.features ?? {} }))).toMatch(
      /the column reading has no unit/,
    );
  });
});

describe("bare readings", () => {
  const { text, plan } = SAMPLES["bare-readings"]!;
  it("go to the places of the plan; a remark between them takes none", () => {
    const log = understood(text, plan);
    expect([...(feature(log).sweep?.reading ?? [])]).toEqual([
      0,
      0.0012 * 25.4,
      -0.0004 * 25.4,
      -0.0003 * 25.4,
    ]);
    expect([...(feature(log).sweep?.station ?? [])]).toEqual(FOUR_ANGLES.map((entry) => entry.angle));
    expect(leftOut(log)).toEqual(["4: the row cannot be divided into cells: it is no reading"]);
    expect(decision(log, "unit of reading")).toBe('in: 0.0012" in line 2');
    expect(codes(log)).toContain("warning line-between-readings");
  });
  it("a slip in place of a reading leaves its place empty", () => {
    const log = understood('0.0\n0.1\noops\n0.3"\n', plan);
    expect([...(feature(log).sweep?.station ?? [])]).toEqual([0, Math.PI / 2, (270 * Math.PI) / 180]);
  });
  it("are a question without places", () => {
    expect(sentence(text)).toBe(
      "log.csv, line 1: the log holds 4 readings and nothing that says where each was taken; give the places in the plan's logs.order, or add columns such as sweep,angle,reading",
    );
  });
  it("are a question when readings and places do not agree", () => {
    expect(sentence('0.1"\n0.2\n', plan)).toBe(
      "log.csv: the log holds 2 readings but the plan's logs.order names 4 places; take the readings again or correct the order",
    );
  });
  it("keep places of the plan exactly, whatever the decimal mark of the readings", () => {
    const order = [0.1, 1e-7, 12.5, 1e21, 123.456].map((position) => ({
      sweep: "t",
      position,
      angle: null,
      x: null,
      y: null,
    }));
    const log = understood("0,01\n0,02\n-0,03\n0,04\n0,05\n", planWith({ logs: { order, unit: "mm" } }));
    expect([...(feature(log).sweep?.station ?? [])]).toEqual(order.map((entry) => entry.position));
    expect([...(feature(log).sweep?.reading ?? [])]).toEqual([0.01, 0.02, -0.03, 0.04, 0.05]);
  });
});

describe("results without touches", () => {
  it("give a place and a diameter, one point each", () => {
    const log = understood(SAMPLES["results-table"]!.text);
    expect(log.record.kind).toBe("results");
    expect(points(log)).toEqual([[0.1, -0.25, 0]]);
    expect(feature(log).result).toEqual({ diameterMm: 100.012 });
    expect(codes(log)).toEqual(["note results-only"]);
  });
});

describe("foreign columns", () => {
  const foreign =
    "Punkt;X [mm];Y [mm];Z [mm];Zeit\n1;68,580;0,000;6,863;03.04.25 07:12:09\n2;0,000;68,580;6,162;03.04.25 07:12:15\n2;0,000;68,580;6,162;03.04.25 07:12:15\n3;-68,58";
  const plan = planWith({ logs: { columns: { point: "Punkt", time: "Zeit" } }, features: { face: {} } });
  it("come in by the plan's names; a row logged twice counts once, a row cut off is left out", () => {
    const log = understood(`\ufeff${foreign}`, plan);
    expect(points(log, "face")).toEqual([
      [68.58, 0, 6.863],
      [0, 68.58, 6.162],
    ]);
    expect(leftOut(log)).toEqual([
      "4: the same as line 3, word for word: logged twice",
      "5: a short row: 2 of 5 cells",
    ]);
    expect(codes(log)).toEqual(["warning last-row-cut", "warning rows-left-out"]);
    expect(decision(log, "encoding")).toBe("UTF-8: byte order mark EF BB BF");
    expect(decision(log, "decimal")).toBe("comma: 0,000 in line 2 can be read in no other way");
  });
  it("come in by position, with rows skipped", () => {
    const log = understood(
      "report of today\nno;X;Y;Z\n7;1,5;2,5;3,5\n",
      planWith({
        logs: { unit: "mm", skipRows: 1, columns: { point: 1, x: 2, z: 3, y: 4 } },
        features: { f: {} },
      }),
    );
    expect(points(log)).toEqual([[1.5, 3.5, 2.5]]);
    expect([...feature(log).readings.line]).toEqual([3]);
  });
  it("come in by position without any line of names", () => {
    const log = understood(
      "  1,  2.7000,  0.0000,  0.2702\n  2,  0.0000,  2.7000,  0.2426\n",
      planWith({ logs: { unit: "in", columns: { point: 1, x: 2, y: 3, z: 4 } }, features: { f: {} } }),
    );
    expect(points(log)).toEqual([
      [2.7 * 25.4, 0, 0.2702 * 25.4],
      [0, 2.7 * 25.4, 0.2426 * 25.4],
    ]);
  });
  it("prefer the plan's name to ours when both are there", () => {
    const log = understood(
      "feature,x,y,Z,Z-Ist\nf,1,2,3,4\n",
      planWith({ logs: { unit: "mm", columns: { z: "Z-Ist" } } }),
    );
    expect(points(log)).toEqual([[1, 2, 4]]);
    expect(decision(log, "columns not used")).toBe("Z: they mean nothing here");
  });
  it("take the feature from the header, the file name or the only feature of the plan", () => {
    const text = "x,y,z\n1,2,3\n";
    const two = planWith({ logs: { unit: "mm" }, features: { "face-0": {}, "face-90": {} } });
    expect(understood(`# feature: seat\n${text}`, two).features[0]?.name).toBe("seat");
    expect(understood(text, two, "Face 90.csv").features[0]?.name).toBe("face-90");
    expect(
      understood(text, planWith({ logs: { unit: "mm" }, features: { only: {} } })).features[0]?.name,
    ).toBe("only");
    expect(sentence(text, two)).toBe(
      "log.csv, line 2: the rows do not say which feature they belong to; add a column feature, or write # feature: face-0 above the rows",
    );
  });
});
