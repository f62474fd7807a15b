import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { UnderstoodLog } from "../../src/model/measurement.ts";
import { feature, latin1, planWith, read, understood, utf16 } from "./helpers.ts";

const ENCODINGS: Readonly<Record<string, (text: string) => Uint8Array>> = {
  utf8: (text) => new TextEncoder().encode(text),
  "utf8 with mark": (text) => new TextEncoder().encode(`\ufeff${text}`),
  "utf16 le": (text) => utf16(text, "le"),
  "utf16 be": (text) => utf16(text, "be"),
  latin1,
};
const UNITS = { mm: 1, in: 25.4 } as const;

/** A double as a log may write it: every digit or a fixed number of them. */
const written = fc.oneof(
  fc.double({ noNaN: true, min: -1e6, max: 1e6 }).map(String),
  fc
    .tuple(fc.double({ noNaN: true, min: -2000, max: 2000 }), fc.integer({ min: 0, max: 6 }))
    .map(([value, digits]) => value.toFixed(digits)),
);
const layout = fc.record({
  encoding: fc.constantFrom(...Object.keys(ENCODINGS)),
  separator: fc.constantFrom(",", ";", "\t"),
  comma: fc.boolean(),
  lineEnd: fc.constantFrom("\n", "\r\n", "\r"),
  unit: fc.constantFrom("mm", "in" as const),
  quoted: fc.boolean(),
  padded: fc.boolean(),
});
const isFiller = (text: string): boolean => /^-?9{4,}(?:\.(?:9+|0+))?$/.test(text);

describe("a log written in any way", () => {
  it("comes back as the same doubles", () => {
    fc.assert(
      fc.property(
        layout,
        fc.array(fc.tuple(written, written, written), { minLength: 1, maxLength: 8 }),
        (how, rows) => {
          fc.pre(rows.flat().every((cell) => !isFiller(cell)));
          const comma = how.comma && how.separator !== ",";
          const cell = (text: string): string => {
            const marked = comma ? text.replace(".", ",") : text;
            return how.quoted ? `"${marked}"` : how.padded ? `  ${marked} ` : marked;
          };
          const lines = [
            `# unit: ${how.unit}`,
            `# decimal: ${comma ? "comma" : "point"}`,
            ["feature", "x", "y", "z"].join(how.separator),
            ...rows.map((row) => ["fläche", ...row.map(cell)].join(how.separator)),
          ];
          const bytes = ENCODINGS[how.encoding]?.(lines.join(how.lineEnd) + how.lineEnd) ?? new Uint8Array();
          const { x, y, z, line } = feature(understood(bytes), "fläche").readings;
          rows.forEach(([rx, ry, rz], at) => {
            for (const [column, text] of [
              [x, rx],
              [y, ry],
              [z, rz],
            ] as const) {
              const expected = Number(text) * UNITS[how.unit];
              // Zero has a sign that no length has.
              expect(column[at]! + 0).toBe(expected + 0);
            }
            expect(line[at]).toBe(at + 4);
          });
        },
      ),
      { numRuns: 400 },
    );
  });
  it("is either understood with the mark that was used or asks, when the mark is not declared", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(";", "\t"),
        fc.boolean(),
        fc.array(fc.tuple(written, written, written), { minLength: 1, maxLength: 4 }),
        (separator, comma, rows) => {
          fc.pre(rows.flat().every((cell) => !isFiller(cell)));
          const text = [
            "feature,x_mm,y_mm,z_mm".replaceAll(",", separator),
            ...rows.map((row) =>
              ["f", ...row.map((cell) => (comma ? cell.replace(".", ",") : cell))].join(separator),
            ),
            "",
          ].join("\n");
          const log = read(text);
          if (!log.ok) return expect(log.finding.code).toBe("decimal-mark-unknown");
          const { x, line } = feature(log).readings;
          line.forEach((number, at) => {
            expect(x[at]! + 0).toBe(Number(rows[number - 2]![0]) + 0);
          });
          expect(log.record.excluded).toEqual([]);
        },
      ),
      { numRuns: 300 },
    );
  });
});

const SEEDS = [
  "# unit: mm\n# job: J-1\n# points: surface\nfeature,x,y,z,i,j,k\nface-0,1.000,2.000,3.000,0,0,1\nface-0,4.500,5.500,-6.500,0,0,1\nbore,1.0,2.0,3.0,1,0,0\n",
  "# unit: in\r\n# sag: 0.0008 in\r\nsweep;angle;reading\r\nrim;0;0,0000\r\nrim;90;0,0010\r\nrim;180;0,0030\r\nrim;270;0,0020\r\n",
  "check,value,unit,by\nseat,yes,,AB\ntorque,92.5,N·m,AB\n",
  "%\rO0815 (FACE B0)\rX   2.7000 Y   0.0000 Z   0.2702\rX-  1.9092 Y   1.9092 Z****.****\r%\r",
  "pt=1 x=-12.5178 y=1 z=-15.7411 b=0 tip=center unit=in\nb=90 y=2 pt=2 z=-22.9832 x=-8.2406 unit=in tip=center\n",
  "FACE B90,,,\nangle,reading\n0,.0006\n90,.0002\n180,-.0004\n",
  '0.0000\n0.0012"\n-0.0004\noops\n-.0003\n',
  '# unit: mm\nfeature,diameter,x,y,note\nbore,100.01,0.1,0.2,"quoted, ""twice""\nlines"\n',
];
const PLANS = [
  null,
  planWith({ features: { rim: { fit: "circle", from: "rim-sweep", radiusMm: 75, surface: "bore" } } }),
  planWith({ features: { f: {} }, logs: { unit: "mm", columns: { x: 1, y: 2, z: 3 } } }),
];

/** A small random generator with a stated seed, so that a case that fails can be run again. */
function random(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
function mutate(bytes: Uint8Array, next: () => number): Uint8Array {
  const out = [...bytes];
  const times = 1 + Math.floor(next() * 6);
  const pick = (): number =>
    next() < 0.5 ? Math.floor(next() * 256) : ',;\t\n\r"#.0-9 xX=%()*'.charCodeAt(Math.floor(next() * 21));
  for (let count = 0; count < times; count++) {
    const at = Math.floor(next() * (out.length + 1));
    const kind = next();
    if (kind < 0.35) out[at] = pick();
    else if (kind < 0.6) out.splice(at, 1 + Math.floor(next() * 4));
    else if (kind < 0.85) out.splice(at, 0, pick());
    else out.splice(at, 0, ...out.slice(Math.floor(next() * out.length)).slice(0, 30));
  }
  return Uint8Array.from(out.map((byte) => (byte ?? 32) & 255));
}

function checkUnderstood(log: UnderstoodLog): void {
  const { record } = log;
  expect(record.rows).toBeGreaterThanOrEqual(record.used);
  const lengths = record.kind !== "sign-offs";
  if (lengths) {
    const units = record.decisions.filter((entry) => entry.what.startsWith("unit of "));
    expect(units.length).toBeGreaterThan(0);
    for (const entry of units) expect(entry.because.text.length).toBeGreaterThan(3);
  }
  for (const what of ["encoding", "decimal", "shape", "kind"])
    expect(record.decisions.some((entry) => entry.what === what)).toBe(true);
  let points = 0;
  for (const { readings } of log.features) {
    points += readings.x.length;
    for (const column of [readings.x, readings.y, readings.z, readings.i, readings.j, readings.k, readings.b])
      for (const value of column ?? []) expect(Number.isFinite(value)).toBe(true);
  }
  if (lengths) expect(points).toBe(record.used);
  else expect(log.signOffs.length).toBe(record.used);
  expect(record.used + record.excluded.length).toBe(record.rows);
}

describe("logs with damaged bytes", () => {
  it("never crash, never lack a unit and its evidence, never hold a number that is none", () => {
    const next = random(20261125);
    let accepted = 0;
    for (let run = 0; run < 5000; run++) {
      const seed = new TextEncoder().encode(SEEDS[run % SEEDS.length]);
      const bytes = mutate(seed, next);
      const log = read(bytes, PLANS[run % PLANS.length] ?? null);
      if (log.ok) {
        accepted++;
        checkUnderstood(log);
      } else expect(log.finding.text.text.length).toBeGreaterThan(20);
    }
    expect(accepted).toBeGreaterThan(500);
    expect(accepted).toBeLessThan(4500);
  });
  it("every prefix of a log is understood or refused, and no row that was cut counts", () => {
    const text = "# unit: mm\nfeature,x,y,z\nf,1.000,2.000,3.125\nf,4.000,5.000,6.125\n";
    const rows = new Set(["1,2,3.125", "4,5,6.125"]);
    for (let length = 0; length <= text.length; length++) {
      const log = read(text.slice(0, length));
      if (!log.ok) continue;
      const { x, y, z } = feature(log).readings;
      // The first row has nothing above it to be compared with.
      x.forEach((value, at) => {
        if (at > 0) expect(rows.has(`${value},${y[at]},${z[at]}`)).toBe(true);
      });
    }
  });
});
