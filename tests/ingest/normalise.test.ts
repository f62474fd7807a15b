// The plain copy of a log gives the same points to the last bit.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { normaliseLog } from "../../src/ingest/normaliseLog.ts";
import { understandLog } from "../../src/ingest/understandLog.ts";
import type { LogFile, UnderstoodLog } from "../../src/model/measurement.ts";
import type { Plan } from "../../src/model/plan/plan.ts";
import { planFromText } from "../../src/records/planFile.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { sampleLogs } from "../golden/sampleLogs.ts";

const file = (text: string, name = "log.csv"): LogFile => ({
  name,
  bytes: new TextEncoder().encode(text),
  sha256: sha256Of(text),
});
const plan = (body: string): Plan =>
  planFromText({
    text: `plinth: 1\nname: n\ntitle: N\ndecision: {rule: simple}\n${body}`,
    name: "n.yaml",
    sha256: "0".repeat(64),
  });
const PLAN = plan(`features:
  rim: {fit: circle, from: rim-sweep, radius: 75 mm, surface: bore}
  lean: {fit: line, from: traverse, along: y, height: z}
`);

function understood(log: LogFile, by: Plan | null): UnderstoodLog {
  const result = understandLog(log, by);
  if (!result.ok) throw new Error(result.finding.text.text);
  return result;
}
/** Everything that the analysis sees, bit for bit; lines belong to the file they are in. */
const pointsOf = ({ features, signOffs }: UnderstoodLog) => ({
  features: features.map(({ readings: { line: _line, ...columns }, ...feature }) => ({
    ...feature,
    columns,
  })),
  signOffs: signOffs.map(({ line: _line, ...entry }) => entry),
});
function sameAgain(text: string, by: Plan | null = PLAN): string {
  const copy = normaliseLog(file(text), by);
  if ("sentence" in copy) throw new Error(copy.sentence);
  expect(pointsOf(understood(file(copy.text), by))).toEqual(pointsOf(understood(file(text), by)));
  return copy.text;
}

describe("the plain copy of a log", () => {
  it("has points, units and original lines", () => {
    const copy = sameAgain(
      '\ufeff# job: A;;\r\n# unit: in\r\n# points: surface\r\nfeature;x;y;z;note\r\nf;1,5;-2,25;,001;"a;b"\r\nf;x;1,0;2,0;\r\nf;3,5;1,0;2,0;\r\n',
    );
    expect(copy).toBe(
      "# job: A\n# points: surface\nfeature,x [mm],y [mm],z [mm],note,line\nf,38.099999999999994,-57.15,0.0254,a;b,5\nf,88.89999999999999,25.4,50.8,,7\n",
    );
  });
  it.each(["unit: in", "unit: mm"])("of sweeps keeps sag, sign, lever and closure (%s)", (unit) => {
    sameAgain(
      `# ${unit}\n# sag: 0.0008 in\n# lever-angle: 12 deg\n# sign: toward-minus\nsweep,angle,reading\nrim,0,0.0001\nrim,33.3,.0005\nrim,120.7,-.0002\nrim,250,0.0013\nrim,360,0.0002\n`,
    );
    sameAgain(
      `# ${unit}\nsweep\tposition\treading\nlean\t0\t0\nlean\t1.1\t.0007\nlean\t3.3\t.0019\nlean\t0\t.0001\n`,
    );
  });
  it("of a log with a second word for what the copy settles", () => {
    sameAgain("# unit: in\n# tool unit: in\n# unti: in\n# job: J\nfeature,x,y,z\nf,1,2,3\n");
  });
  it("of titled blocks, of sign-offs and of normals", () => {
    sameAgain("# unit: mm\nLEAN,,\nposition,reading\n0,0\n10,.002\n20,.003\n");
    sameAgain(
      'check,value,unit,by,time\nseat-stoned,yes,,"A, B",\ntorque,92.50,N·m,AB,2026-11-24T08:00:00Z\n',
    );
    sameAgain(
      "# unit: in\n# points: ball-center\n# tip-diameter: 6 mm\nfeature,x,y,z,i,j,k,b\nq,1,2,3,0.6,0,0.8,90\nq,2,2,3.3,0.6,0,0.8,90\nq,1,4,3.1,0.6,0,0.8,90\n",
    );
  });
  it.each(Object.entries(sampleLogs()).filter(([path]) => !path.includes("plate")))("of %s", (path, text) => {
    const sweeps = plan(`features:
  rim: {fit: circle, from: rim-sweep, radius: 125 mm, surface: boss}
  chuck-face: {fit: plane, from: face-sweep, radius: 110 mm}
  lean-0: {fit: line, from: traverse, along: y, height: z}
`);
    expect(path).toContain("/");
    sameAgain(text, sweeps);
  });
  it("of any numbers, units, separators and marks", () => {
    const number = fc.double({ min: -1e4, max: 1e4, noNaN: true }).map((value) => Number(value.toFixed(6)));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(number, number, number, fc.integer({ min: -3600, max: 3600 })), {
          minLength: 3,
          maxLength: 12,
        }),
        fc.constantFrom("mm", "in", "um"),
        fc.constantFrom(";", "\t", ","),
        fc.constantFrom(".", ","),
        (rows, unit, separator, mark) => {
          const decimal = separator === "," ? "." : mark;
          const cell = (value: number): string => value.toFixed(6).replace(".", decimal);
          const lines = rows.map(([x, y, z, b]) =>
            ["f", cell(x), cell(y), cell(z), cell(b / 10)].join(separator),
          );
          sameAgain(
            `# unit: ${unit}\n# points: surface\n# decimal: ${decimal}\n${["feature", "x", "y", "z", "b"].join(separator)}\n${lines.join("\n")}\n`,
            null,
          );
        },
      ),
      { numRuns: 200 },
    );
  });
  it("says why a log that is not understood has none", () => {
    expect(normaliseLog(file("feature,x,y,z\nf,1,2,3\n"), null)).toMatchObject({
      sentence: expect.stringContaining("has no unit"),
    });
  });
});
