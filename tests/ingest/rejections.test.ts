import { describe, expect, it } from "vitest";
import type { Plan } from "../../src/model/plan/plan.ts";
import { planWith, rejected } from "./helpers.ts";

const MM = "# unit: mm\n";
const HEAD = `${MM}feature,x,y,z\n`;
const SWEEP = `${MM}sweep,angle,reading\ns,0,0\ns,90,1\n`;
const plan = (part: object, logs = {}): Plan => planWith({ features: { s: part }, logs });

/** Every log here must be refused with exactly this sentence: which log and line, what was expected, what to do. */
const CASES: readonly (readonly [string, string, string, Plan?])[] = [
  ["empty-log", "", "log.csv: the file is empty; expected rows of readings, so export the log again"],
  [
    "unknown-shape",
    "hello\nworld\n",
    "log.csv: no line names the columns of a log; expected one such as feature,x,y,z or sweep,angle,reading or check,value, or a mapping in the plan's logs.columns",
  ],
  [
    "unknown-shape",
    MM,
    "log.csv: no line names the columns of a log; expected one such as feature,x,y,z or sweep,angle,reading or check,value, or a mapping in the plan's logs.columns",
  ],
  [
    "no-rows",
    HEAD,
    "log.csv: there are column names but no rows below them; expected readings, so export the log again",
  ],
  [
    "no-rows",
    `${HEAD}f,oops,2,3\nf,1,2\n`,
    "log.csv, line 3: no row of 2 can be read: x: oops is not a number; correct the log or say in the plan what its columns are",
  ],
  [
    "column-missing",
    `${MM}feature,x,y\nf,1,2\n`,
    "log.csv, line 2: of the columns feature, x and y are there but z is not; name the column so, or say which one it is in the plan's logs.columns",
  ],
  [
    "column-missing",
    `${MM}feature,x,y,height\nf,1,2,3\n`,
    "log.csv, line 2: of the columns feature, x, y and height are there but z is not; name the column so, or say which one it is in the plan's logs.columns",
  ],
  [
    "column-missing",
    "feature,x [furlong],y_mm,z_mm\nf,1,2,3\n",
    "log.csv, line 1: of the columns feature, y and z are there but x is not (no meaning here: x [furlong]); name the column so, or say which one it is in the plan's logs.columns",
  ],
  [
    "column-missing",
    `${MM}sweep,reading,note\ns,1,\n`,
    "log.csv, line 2: of the columns sweep, reading and note are there but position is not; name the column so, or say which one it is in the plan's logs.columns",
  ],
  [
    "column-twice",
    `${MM}feature,x,y,z,X\nf,1,2,3,4\n`,
    "log.csv, line 2: more than one column is named x; rename the one that is not meant or say which counts in the plan's logs.columns",
  ],
  [
    "two-tables",
    `${HEAD}f,1,2,3\ncheck,value\nseat,yes\n`,
    "log.csv, line 4: other columns than in line 2 begin here, so the log holds two kinds of readings; split it into two logs",
  ],
  [
    "no-feature-name",
    "# unit: mm\nx,y,z\n1,2,3\n",
    "log.csv, line 3: the rows do not say which feature they belong to; add a column feature, or write # feature: NAME above the rows",
  ],
  [
    "no-feature-name",
    "# unit: mm\nangle,reading\n1,2\n",
    "log.csv, line 3: the rows do not say which feature they belong to; add a column sweep, or write # feature: NAME above the rows",
  ],
  [
    "no-unit",
    "feature,x,y,z\nf,1,2,3\n",
    "log.csv: the column x has no unit; write # unit: mm or # unit: in above the rows, put it into the column name as x [mm], or set logs.unit in the plan",
  ],
  [
    "no-unit",
    "feature,x [mm],y,z [mm]\nf,1,2,3\n",
    "log.csv: the column y has no unit; write # unit: mm or # unit: in above the rows, put it into the column name as y [mm], or set logs.unit in the plan",
  ],
  [
    "near-key",
    "# unti: mm\nfeature,x,y,z\nf,1,2,3\n",
    "log.csv, line 1: unti is no header key but looks like unit, which changes what the numbers mean; write # unit: mm if that is meant, else put the line behind # note:",
  ],
  [
    "scale-in-header",
    "# unit: mm\n# scale: 0.001\nfeature,x,y,z\nf,1,2,3\n",
    "log.csv, line 2: scale: 0.001 would change every number, and a log has no such key; write the readings as they count, their unit as # unit: mm or # unit: in, and take this line out, or put it behind # note:",
  ],
  [
    "no-unit",
    "# tip-diameter: 6\nfeature,x_mm,y_mm,z_mm\nf,1,2,3\n",
    "log.csv, line 1: tip-diameter: 6 has no unit and the log states none; write tip-diameter: 6 mm or tip-diameter: 6 in",
  ],
  [
    "no-unit",
    `# temperature: 68\n${HEAD}f,1,2,3\n`,
    "log.csv, line 1: temperature: 68 has no unit and is too hot for °C; write temperature: 68 F or temperature: 68 C",
  ],
  [
    "unknown-unit",
    "# unit: furlong\nfeature,x,y,z\nf,1,2,3\n",
    "log.csv, line 1: unit: furlong is no unit of length; write mm or in",
  ],
  [
    "unknown-state",
    `# state: found\n${HEAD}f,1,2,3\n`,
    "log.csv, line 1: state: found is none of as-found and as-left; write one of them, or leave the line out",
  ],
  [
    "unknown-points",
    `# points: corrected\n${HEAD}f,1,2,3\n`,
    "log.csv, line 1: points: corrected is none of surface and ball-center; write one of them, or leave the line out",
  ],
  [
    "unknown-sign",
    `# sign: plus\n${SWEEP}`,
    "log.csv, line 1: sign: plus is none of toward-plus and toward-minus; write one of them, or leave the line out",
  ],
  [
    "unknown-frame",
    `# frame: G54\n${HEAD}f,1,2,3\n`,
    "log.csv, line 1: frame: G54 is none of machine and work; write one of them, or leave the line out",
  ],
  [
    "unknown-clamping",
    `# clamping: glued\n${HEAD}f,1,2,3\n`,
    "log.csv, line 1: clamping: glued is none of snug, torqued, clamped and free; write one of them, or leave the line out",
  ],
  [
    "unknown-decimal",
    `# decimal: dot\n${HEAD}f,1,2,3\n`,
    'log.csv, line 1: decimal: dot is none of "." and ","; write one of them, or leave the line out',
  ],
  [
    "unknown-separator",
    `# separator: space\n${HEAD}f,1,2,3\n`,
    'log.csv, line 1: separator: space is none of ",", ";" and tab; write one of them, or leave the line out',
  ],
  [
    "unreadable-sag",
    `# sag: some\n${SWEEP}`,
    "log.csv, line 1: sag: some is not a quantity; write a number with a decimal point and its unit, such as sag: 6 mm",
  ],
  [
    "bad-sag",
    `# sag: -0.02 mm\n${SWEEP}`,
    "log.csv, line 1: sag: -0.02 mm cannot be; expected the droop of the arm as a positive length, half the bottom reading on a mandrel zeroed at the top",
  ],
  [
    "bad-tip-diameter",
    `# tip-diameter: 0 mm\n${HEAD}f,1,2,3\n`,
    "log.csv, line 1: tip-diameter: 0 mm cannot be; expected a diameter above zero",
  ],
  [
    "bad-lever-angle",
    `# lever-angle: 90 deg\n${SWEEP}`,
    "log.csv, line 1: lever-angle: 90 deg cannot be; expected an angle between lever and surface below 90 degrees",
  ],
  [
    "header-twice",
    `# unit: in\n${HEAD}f,1,2,3\n`,
    "log.csv, line 2: unit is mm here but in in line 1; keep the one that is true",
  ],
  [
    "header-after-rows",
    `${HEAD}f,1,2,3\n# state: as-found\nf,1,2,4\n`,
    "log.csv, line 4: state: as-found stands below the first row, where it could count for all rows or for those after it; put it above the rows or split the log",
  ],
  [
    "decimal-is-separator",
    `# decimal: ,\n${HEAD}f,1,2,3\n`,
    "log.csv: the decimal mark is declared as a comma but the columns are divided by commas as well; export with semicolons or tabs, or with decimal points",
  ],
  [
    "decimal-mark-unknown",
    `${MM}feature\tx\ty\tz\nf\t1.234\t5.678\t9.012\n`,
    "log.csv, line 3: 1.234 can be 1234 or 1.234; write # decimal: . or # decimal: , above the rows, or logs.decimal in the plan",
  ],
  [
    "two-decimal-marks",
    `${MM}feature;x;y;z\nf;1,5;2;3\nf;1.5;2;3\n`,
    "log.csv: 1.5 in line 4 has a decimal point and 1,5 in line 3 a decimal comma; say which counts with # decimal: . or # decimal: , above the rows, or export the log again",
  ],
  [
    "feature-twice",
    `${HEAD}f,1,2,3\ng,1,2,3\nf,1,2,3\n`,
    "log.csv, line 5: f is measured again here after other rows; if this is a closure, say closure: f in the plan or name these rows f-closure, else give the rows a name of their own",
  ],
  [
    "feature-twice",
    `${MM}feature,diameter,x,y\nb,1,2,3\nb,1,2,3\n`,
    "log.csv, line 4: b has two results in one log; keep the one that counts or give them names of their own",
  ],
  [
    "sweep-kind",
    SWEEP,
    "log.csv, line 3: s has angles, so it is a sweep of a face or of a rim; say from: face-sweep or from: rim-sweep and radius, and surface: bore or boss for a rim, in the plan's entry s, or write # from: and # radius: above the rows",
  ],
  [
    "sweep-kind",
    SWEEP,
    "log.csv, line 3: s is said to come from a traverse but has angles; a rim-sweep or face-sweep has these, so correct from in the plan or the columns of the log",
    plan({ from: "traverse" }),
  ],
  [
    "sweep-geometry",
    SWEEP,
    "log.csv, line 3: the rim sweep s needs bore or boss; give the feature s surface: bore or surface: boss in the plan, or write the same as # lines above the rows",
    plan({ from: "rim-sweep", radiusMm: 75 }),
  ],
  [
    "sweep-contradiction",
    `# surface: bore\n${SWEEP}`,
    "log.csv, line 4: s is a bore in the log and a boss in the plan; the centre would move the other way, so correct the one that is wrong",
    plan({ from: "rim-sweep", radiusMm: 75, surface: "boss" }),
  ],
  [
    "sweep-stations",
    `${MM}sweep,position,angle,reading\ns,1,2,3\n`,
    "log.csv, line 3: the readings of s have more than one kind of place; leave only position, angle, or x and y in the log",
  ],
  [
    "traverse-axes",
    `${MM}sweep,position,reading\ns,1,2\n`,
    "log.csv, line 3: the traverse s has its readings along its own travel z; give it along and height that differ",
    plan({ from: "traverse", along: "z", height: "z" }),
  ],
  [
    "no-places",
    "0.1\n0.2\n",
    "log.csv, line 1: the log holds 2 readings and nothing that says where each was taken; give the places in the plan's logs.order, or add columns such as sweep,angle,reading",
  ],
  [
    "key-changes",
    "x=1 y=2 z=3 state=as-left\nx=1 y=2 z=3 state=as-found\n",
    "log.csv, line 2: state=as-found here but state=as-left in line 1; split the log so that each says one thing",
  ],
  [
    "column-missing",
    "foo=1 bar=2\nfoo=2 bar=3\n",
    "log.csv, line 1: the values are named foo and bar, which are not those of a log; expected x, y and z, or sweep and reading with angle, position or x and y; give their names in the plan's logs.columns",
  ],
];

describe("logs that cannot be understood", () => {
  it.each(CASES.map((entry) => ({ code: entry[0], text: entry[1], said: entry[2], plan: entry[3] ?? null })))(
    "$code: $text",
    (given) => {
      const { code, text, said } = given;
      const { finding, name, sha256 } = rejected(text, given.plan);
      expect(finding.text.text).toBe(said);
      expect(finding).toMatchObject({ level: "error", code, log: "log.csv" });
      expect(name).toBe("log.csv");
      expect(sha256).toMatch(/^[0-9a-f]{64}$/);
    },
  );
  it("are refused in one sentence that starts with the log and its line", () => {
    for (const [, text, , withPlan] of CASES) {
      const { finding } = rejected(text, withPlan ?? null);
      expect(finding.text.text).toMatch(
        finding.line === undefined ? /^log\.csv: / : new RegExp(`^log\\.csv, line ${finding.line}: `),
      );
      expect(finding.text.text).not.toMatch(/[\n.]$/);
    }
  });
  it("are refused without their control characters and without endless text", () => {
    const { finding } = rejected(`# state: \u0007${"x".repeat(5000)}\n${HEAD}f,1,2,3\n`);
    expect(finding.text.text.length).toBeLessThan(200);
    expect(finding.text.text).not.toMatch(/\u0007/);
  });
});
