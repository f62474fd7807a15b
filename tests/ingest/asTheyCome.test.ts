import { describe, expect, it } from "vitest";
import { latin1, planWith, read, utf16 } from "./helpers.ts";

// What breaks naive importers, each with its outcome: understood with the evidence in words, or refused with the question.
// The list is common practice, no source.
const HEAD = "# unit: mm\nfeature,x,y,z\n";
const FACE = "# unit: mm\nsweep,position,reading\n";
const ROUND = "# unit: mm\n# from: face-sweep\n# radius: 100 mm\nsweep,angle,reading\n";
const ONE = planWith({ logs: { unit: "mm" }, features: { f: {} } });
const NO_UNIT = planWith({ features: { f: {} } });
const PLACES = [0, 1].map((position) => ({ sweep: "f", position, angle: null, x: null, y: null }));

type Text = string | Uint8Array;
interface Understood {
  /** Touches in mm. */
  readonly points: readonly (readonly number[])[];
  /** What was decided, by its name, value and evidence. */
  readonly decided?: readonly [string, RegExp];
  /** Code of a finding and its line. */
  readonly told?: readonly [string, number | undefined];
  /** Rows left out, each with its reason. */
  readonly leftOut?: readonly (readonly [number, RegExp])[];
}
const UNDERSTOOD: readonly (readonly [string, Text, Understood])[] = [
  [
    "semicolons and decimal commas, proved by one cell",
    "# unit: mm\nfeature;x;y;z\nf;1234,56;7,8;1,5\n",
    { points: [[1234.56, 7.8, 1.5]], decided: ["decimal", /^comma: 1234,56 in line 3/] },
  ],
  [
    "translated names, a two-digit year",
    "Punkt;X [mm];Y [mm];Z [mm];Zeit\n1;68,580;0,000;6,863;03.04.25 07:12:09\n",
    { points: [[68.58, 0, 6.863]], decided: ["unit of x", /^mm: column name X \[mm\]/] },
  ],
  [
    "column names again in the middle, other places below",
    `${HEAD}f,1,2,3\nf,20,2,3\nfeature,x,y,z\nf,40,2,3\n`,
    {
      points: [
        [1, 2, 3],
        [20, 2, 3],
        [40, 2, 3],
      ],
      told: ["repeated-header", 5],
    },
  ],
  [
    "a run that starts over without a word",
    `${HEAD}f,1,2,3\nf,20,2,3\nf,40,2,3\nf,1,2,3.01\nf,20,2,3.01\nf,40,2,3.01\n`,
    {
      points: [
        [1, 2, 3],
        [20, 2, 3],
        [40, 2, 3],
        [1, 2, 3.01],
        [20, 2, 3.01],
        [40, 2, 3.01],
      ],
      told: ["starts-over", 6],
    },
  ],
  [
    "units that change with the column names",
    "feature,x [mm],y [mm],z [mm]\nf,1,2,3\nfeature,x [in],y [in],z [in]\nf,1,2,3\n",
    {
      points: [
        [1, 2, 3],
        [25.4, 50.8, 3 * 25.4],
      ],
      told: ["unit-changes", 4],
    },
  ],
  [
    "units that change from cell to cell",
    "feature,x,y,z\nf,1 mm,2 mm,3 mm\nf,1 in,2 in,3 in\n",
    {
      points: [
        [1, 2, 3],
        [25.4, 50.8, 3 * 25.4],
      ],
      decided: ["unit of x", /^mm: each cell has its own/],
    },
  ],
  [
    "every way to write that a value is missing",
    `${HEAD}f,1,2,\nf,1,2,-\nf,1,2,NaN\nf,1,2,****\nf,1,2,9999.9999\nf,1,2,#N/A\nf,1,2,3\n`,
    {
      points: [[1, 2, 3]],
      leftOut: [
        [3, /empty/],
        [4, /missing/],
        [5, /missing/],
        [6, /missing/],
        [7, /filler/],
        [8, /missing/],
      ],
    },
  ],
  [
    "zeros that may mean no touch",
    `${HEAD}f,100,100,6.1\nf,120,100,6.2\nf,0,0,0\nf,100,120,6.15\n`,
    {
      points: [
        [100, 100, 6.1],
        [120, 100, 6.2],
        [0, 0, 0],
        [100, 120, 6.15],
      ],
      told: ["zero-row", 5],
    },
  ],
  [
    "a place touched again on purpose",
    `${HEAD}f,1,2,3.0001\nf,1,2,3.0002\n`,
    {
      points: [
        [1, 2, 3.0001],
        [1, 2, 3.0002],
      ],
    },
  ],
  [
    "rows word for word alike, kept",
    `${HEAD}f,1,2,3\nf,1,2,3\n`,
    {
      points: [
        [1, 2, 3],
        [1, 2, 3],
      ],
      told: ["repeated-rows", 4],
    },
  ],
  [
    "a labelled row logged twice, merged",
    "# unit: mm\nfeature,point,x,y,z\nf,1,1,2,3\nf,1,1,2,3\n",
    { points: [[1, 2, 3]], leftOut: [[4, /logged twice/]] },
  ],
  [
    "a clock with day and month that could change places",
    `# time: 03.04.25 07:12\n${HEAD}f,1,2,3\n`,
    { points: [[1, 2, 3]], told: ["time-not-read", 1] },
  ],
  [
    "UTF-8 with its mark glued to the first name",
    "\ufefffeature,x [mm],y [mm],z [mm]\nf,1,2,3\n",
    { points: [[1, 2, 3]], decided: ["encoding", /^UTF-8: byte order mark/] },
  ],
  [
    "UTF-16 of a spreadsheet",
    utf16(`${HEAD}f,1,2,3\n`, "le"),
    { points: [[1, 2, 3]], decided: ["encoding", /^UTF-16 LE/] },
  ],
  [
    "a degree sign in Latin-1",
    latin1(`# temperature: 20.5 °C\n${HEAD}f,1,2,3\n`),
    { points: [[1, 2, 3]], decided: ["encoding", /^Latin-1/] },
  ],
  [
    "CR alone",
    `${HEAD}f,1,2,3\n`.replaceAll("\n", "\r"),
    { points: [[1, 2, 3]], decided: ["line ends", /^CR:/] },
  ],
  [
    "all line ends in one log",
    `# unit: mm\r\nfeature,x,y,z\rf,1,2,3\n`,
    { points: [[1, 2, 3]], decided: ["line ends", /^CRLF and CR and LF: the file mixes them/] },
  ],
  [
    "a line break in a quoted cell",
    '# unit: mm\nfeature,x,y,z,note\nf,1,2,3,"a\nb"\nf,2,2,3,c\n',
    {
      points: [
        [1, 2, 3],
        [2, 2, 3],
      ],
    },
  ],
  [
    "ragged rows",
    `${HEAD}f,1,2\nf,1,2,3,4\nf,1,2,3\n`,
    {
      points: [[1, 2, 3]],
      leftOut: [
        [3, /short row/],
        [4, /long row/],
      ],
    },
  ],
  [
    "separators a spreadsheet added",
    "# unit: mm,,,,,\nfeature,x,y,z,,\nf,1,2,3,,\n",
    { points: [[1, 2, 3]] },
  ],
  [
    "notes merged on top",
    `Measured by hand,,,\n${HEAD}f,1,2,3\n`,
    { points: [[1, 2, 3]], told: ["line-not-read", 1] },
  ],
  [
    "a minus of the typesetter, a blank that does not break",
    `${HEAD}f,\u22121.5,\u00a02\u00a0,3\n`,
    { points: [[-1.5, 2, 3]] },
  ],
  [
    "numbers without a leading zero, with an exponent",
    `${HEAD}f,.0004,-.0004,4E-4\n`,
    { points: [[0.0004, -0.0004, 0.0004]] },
  ],
  [
    "an inch mark behind each number",
    'feature,x,y,z\nf,1.5",2",3"\n',
    { points: [[1.5 * 25.4, 50.8, 3 * 25.4]], decided: ["unit of x", /^in: 1\.5" in line 2/] },
  ],
  [
    "what is no number although it looks like one",
    `${HEAD}f,1.O,1,3\nf,l.5,1,3\nf,1.2.3,1,3\nf,--0.5,1,3\nf,2-Jan,1,3\nf,1/2,1,3\nf,=A1+1,1,3\nf,2,2,2\n`,
    {
      points: [[2, 2, 2]],
      leftOut: [
        [3, /letter O/],
        [4, /letter .* one/],
        [5, /not a number/],
        [6, /not a number/],
        [7, /fraction or a date/],
        [8, /fraction or a date/],
        [9, /not a number/],
      ],
    },
  ],
  [
    "a last row cut off in its last number",
    `${HEAD}f,1.0000,1.0000,3.0001\nf,1.0000,2.0000,-12.50`,
    { points: [[1, 1, 3.0001]], told: ["last-row-cut", 4], leftOut: [[4, /may be cut off/]] },
  ],
  [
    "NUL padding at the end",
    `${HEAD}f,1,2,3\n${"\0".repeat(500)}`,
    { points: [[1, 2, 3]], told: ["nul-padding", undefined] },
  ],
  ["names in capitals", "# unit: mm\nFEATURE,X,Y,Z\nf,1,2,3\n", { points: [[1, 2, 3]] }],
  [
    "a printed number wider than its field",
    "# unit: mm\n%\nX1234.5678Y  12.5Z3.0\nX  -1.5000 Y   2.5 Z3.0\n%\n",
    {
      points: [
        [1234.5678, 12.5, 3],
        [-1.5, 2.5, 3],
      ],
    },
  ],
];

describe("what breaks naive importers", () => {
  it.each(UNDERSTOOD)("%s: understood", (_, text, { points, decided, told, leftOut = [] }) => {
    const log = read(text, NO_UNIT);
    if (!log.ok) throw new Error(log.finding.text.text);
    const [feature] = log.features;
    const { x, y, z } = feature!.readings;
    expect([...x].map((value, at) => [value, y[at], z[at]])).toEqual(points);
    if (decided !== undefined) {
      const entry = log.record.decisions.find(({ what }) => what === decided[0]);
      expect(`${entry?.value}: ${entry?.because.text}`).toMatch(decided[1]);
    }
    if (told !== undefined)
      expect(log.findings.map(({ code, line }) => [code, line])).toContainEqual([told[0], told[1]]);
    expect(log.record.excluded.map(({ line }) => line)).toEqual(leftOut.map(([line]) => line));
    for (const [at, [, reason]] of leftOut.entries())
      expect(log.record.excluded[at]?.reason.text).toMatch(reason);
  });

  it.each([
    [
      "1,234 and nothing that proves its mark",
      "feature;x;y;z\nf;1,234;2,345;3,456\n",
      ONE,
      /can be 1234 or 1\.234; write # decimal/,
    ],
    [
      "1.234 between semicolons",
      "feature;x;y;z\nf;1.234;2.345;3.456\n",
      ONE,
      /can be 1234 or 1\.234; write # decimal/,
    ],
    [
      "both marks",
      "feature;x;y;z\nf;12.5;2;3\nf;12,5;2;3\n",
      ONE,
      /decimal point .* decimal comma; say which counts/,
    ],
    ["no column names", "1.0,2.0,3.0\n4.0,5.0,6.0\n", ONE, /no line names the columns/],
    [
      "a unit nowhere but in the file's name",
      "feature,x,y,z\nf,1.5,2,3\n",
      null,
      /has no unit; write # unit: mm or # unit: in/,
    ],
    [
      "a mode word in the middle",
      `${HEAD}f,1,2,3\nG20\nf,.1,.2,.3\n`,
      null,
      /line 4: unit: in stands below the first row/,
    ],
    [
      "a mode word in printed text",
      "%\nG21\nX1. Y2. Z3.\nX1. Y3. Z3.\nG20\nX.1 Y.2 Z.3\n%\n",
      ONE,
      /line 5: unit: in stands below the first row/,
    ],
    [
      "a restart with column names at the first place",
      `${HEAD}f,1,2,3\nf,20,2,3\nfeature,x,y,z\nf,1,2,3.001\nf,20,2,3.001\n`,
      null,
      /line 6: .*starts over at the place of line 3/,
    ],
    [
      "runs appended with their headers",
      `# time: 2026-11-25T07:00:00Z\n${HEAD}f,1,2,3\nf,20,2,3\n# time: 2026-11-25T08:00:00Z\n${HEAD}f,1,2,3.1\nf,20,2,3.1\n`,
      null,
      /starts over|below the first row/,
    ],
    [
      "a feature that comes back",
      `${HEAD}f,1,2,3\ng,1,2,3\nf,1,2,3.1\n`,
      null,
      /measured again here after other rows/,
    ],
    ["size 0", "", null, /the file is empty/],
    [
      "a spreadsheet's own file",
      Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0, 6, 0),
      null,
      /packed file, as a spreadsheet's own is/,
    ],
    [
      "readings without places",
      "0.0010\n0.0020\n0.0030\n",
      ONE,
      /nothing that says where each was taken; give the places in the plan's logs\.order/,
    ],
  ] as const)("%s: refused with the question", (_, text, plan, question) => {
    const log = read(text, plan);
    expect(log.ok ? "understood" : log.finding.text.text).toMatch(question);
  });

  it("frames of a serial connection and keyboard slips", () => {
    const plan = planWith({
      logs: { order: PLACES },
      features: { f: {} },
    });
    const framed = read("\u0002 0.0010 mm\u0003\r\n\u0002 0.0020 mm\u0003\r\n", plan);
    expect(framed.ok && [...framed.features[0]!.sweep!.reading]).toEqual([0.001, 0.002]);
    expect(framed.ok && framed.findings.map(({ code }) => code)).toContain("serial-framing");
    const typed = read("# unit: mm\n0.0010\noops\n", plan);
    expect(typed.ok ? typed.record.excluded.map(({ line }) => line) : typed.finding.text.text).toEqual([3]);
  });

  it("angles in any order, reversed, wrapped, and a closure", () => {
    const angles = (rows: string) => {
      const log = read(`${ROUND}${rows}`);
      if (!log.ok) throw new Error(log.finding.text.text);
      const [sweep] = log.features;
      return {
        closure: sweep!.closureMm,
        degrees: [...sweep!.sweep!.station!].map((a) => Math.round((a * 180) / Math.PI)),
      };
    };
    expect(angles("s,270,1\ns,180,2\ns,90,3\ns,0,4\n")).toEqual({
      closure: undefined,
      degrees: [270, 180, 90, 0],
    });
    const wrapped = angles("s,-90,1\ns,0,2\ns,90,3\ns,180,2.5\ns,270,1.25\n");
    expect(wrapped.closure).toBeCloseTo(0.25, 12);
    expect(wrapped.degrees).toHaveLength(4);
    expect(angles("s,0,1\ns,90,2\ns,180,3\ns,270,2\ns,360,1.125\n").closure).toBeCloseTo(0.125, 12);
  });

  it("a traverse of three places closes nothing", () => {
    const log = read(`${FACE}s,0,1\ns,50,2\ns,100,3\n`);
    expect(log.ok ? log.features[0]!.readings.x.length : log.finding.text.text).toBe(3);
  });
});
