import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { LongOptions } from "../../src/ingest/long/readLongLog.ts";
import { Notebook } from "../../src/ingest/notebook.ts";
import { openLog } from "../../src/ingest/openLog.ts";
import { understandLog } from "../../src/ingest/understandLog.ts";
import type { LogFile, LogParts, WholeLog } from "../../src/model/measurement.ts";
import type { Plan } from "../../src/model/plan/plan.ts";
import { damagedLog } from "./fuzzCases.ts";
import { logFile, planWith } from "./helpers.ts";

const AS_ONE: LongOptions = {
  longer: Number.POSITIVE_INFINITY,
  start: 0,
  part: 0,
  comparesAll: 0,
  mostRows: Number.POSITIVE_INFINITY,
};
const IN_PARTS: LongOptions = { ...AS_ONE, longer: 0, start: 130, part: 97 };

/** What a log says, but for its text, which a long log does not keep. */
function read(file: LogFile, plan: Plan | null, options: LongOptions) {
  const log = understandLog(file, plan, options);
  if (!log.ok) return { long: false, log: { ...log, sha256: log.sha256 } };
  return { long: log.record.text === null, log: { ...log, record: { ...log.record, text: null } } };
}
/** Whether it was read in parts; fails unless both ways say the same. */
function sameBothWays(file: LogFile, plan: Plan | null = null, options = IN_PARTS): boolean {
  const parts = read(file, plan, options);
  expect(parts.log).toStrictEqual(read(file, plan, AS_ONE).log);
  return parts.long;
}
/** Bytes that are overwritten with each part, as a file's are. */
function inParts({ bytes }: WholeLog): LogParts {
  let buffer = new Uint8Array();
  return {
    length: bytes.length,
    part(from, to) {
      buffer.fill(255);
      buffer = bytes.slice(from, to);
      return buffer;
    },
  };
}

const HEAD = "# unit: in\n# points: surface\nfeature,x,y,z\n";
const rows = (count: number, row = (at: number) => `f,${at}.5,${-at}.25,0.000${at % 10}`): string =>
  Array.from({ length: count }, (_, at) => `${row(at)}\n`).join("");

const number = fc.oneof(
  { weight: 12, arbitrary: fc.double({ min: -999, max: 999, noNaN: true }).map((value) => value.toFixed(4)) },
  fc.integer({ min: -2000, max: 2000 }).map(String),
  fc
    .integer({ min: 0, max: 10 ** 15 - 1 })
    .map((value) => `${value % 1000}.${String(value).padStart(12, "0").slice(0, 12)}`),
  fc.constantFrom("-0", "-0.0000", "007.50", " 1.5", "1.5 ", "9998.5", "0.1", "123456789012345", "-.5"),
);
const odd = fc.constantFrom(
  "",
  "NaN",
  "****",
  "9999.9999",
  "99999",
  "1e3",
  "+2.5",
  "2.",
  "12345678901234567.5",
  "0.12345678901234567890",
  "-",
);
const line = fc.oneof(
  {
    weight: 14,
    arbitrary: fc.tuple(fc.constantFrom("face", "face", "bore 1", "Fläche"), number, number, number, number),
  },
  { weight: 2, arbitrary: fc.tuple(fc.constantFrom("face", ""), odd, number, number, odd) },
);
const fields = fc.record({
  lines: fc.array(line, { minLength: 1, maxLength: 40 }),
  also: fc.array(
    fc.tuple(fc.nat(39), fc.constantFrom("", "   ", ",,,,", "short,1", "again", "long,1,2,3,4,5")),
    { maxLength: 4 },
  ),
  separator: fc.constantFrom(",", ";", "\t"),
  comma: fc.boolean(),
  end: fc.constantFrom("\n", "\r\n"),
  ended: fc.boolean(),
  extra: fc.constantFrom("b", "temperature", "note", "i", "batch"),
  nameLast: fc.boolean(),
  quotes: fc.constantFrom("none", "none", "names", "numbers", "all", "some"),
  start: fc.integer({ min: 60, max: 400 }),
  part: fc.integer({ min: 40, max: 500 }),
});

describe("a long log, read part by part", () => {
  it("says the same to the last bit as read at once", () => {
    let long = 0;
    fc.assert(
      fc.property(
        fields,
        ({ lines, also, separator, comma, end, ended, extra, nameLast, quotes, start, part }) => {
          const commas = comma && separator !== ",";
          const shown = (text: string): string => (commas ? text.replace(".", ",") : text);
          let cellsSoFar = 0;
          const quoted = (text: string, at: number): string =>
            quotes === "all" ||
            (quotes === "names" && at === 0) ||
            (quotes === "numbers" && at > 0) ||
            (quotes === "some" && ++cellsSoFar % 7 < 3)
              ? `"${text}"`
              : text;
          const put = (cells: readonly string[]): string => {
            const texts = cells.map((text, at) => quoted(shown(text), at));
            return (nameLast ? [...texts.slice(1), texts[0] ?? ""] : texts).join(separator);
          };
          const texts = lines.map((cells) => put(cells));
          for (const [at, text] of also)
            texts.splice(at, 0, text === "again" ? (texts[at - 1] ?? "") : text.replaceAll(",", separator));
          const head = ["# unit: mm", "# points: surface", put(["feature", "x", "y", "z", extra])];
          const text = [...head, ...texts].join(end) + (ended ? end : "");
          const plan = planWith({
            exclude: [{ log: null, line: 9, feature: null, reason: "a burr" }],
            closure: ["face", "bore 1", "Fläche"],
          });
          const file = logFile(text);
          if (sameBothWays(file, plan, { ...IN_PARTS, start, part })) long++;
          sameBothWays({ ...file, bytes: inParts(file) }, plan, { ...IN_PARTS, start, part });
        },
      ),
      { numRuns: 1500 },
    );
    expect(long).toBeGreaterThan(300);
  });
  it("says the same of damaged logs", () => {
    let long = 0;
    for (let seed = 1; seed <= 5000; seed++) if (sameBothWays(damagedLog(seed))) long++;
    expect(long).toBeGreaterThan(300);
  });
  it.each([
    ["a remark between the rows", `${HEAD}${rows(30)}# operator: m\n${rows(30)}`],
    ["a key that decides, too late", `${HEAD}${rows(30)}# unit: mm\n${rows(30)}`],
    ["column names again", `${HEAD}${rows(30)}feature,x,y,z\n${rows(30)}`],
    ["a mode word", `${HEAD}${rows(30)}G21\n${rows(30)}`],
    ["a quoted line break", `${HEAD}${rows(30)}"f\ng",1,2,3\n${rows(30)}`],
    ["a quotation mark that is never closed", `${HEAD}${rows(30)}f,1,2,"3\n${rows(30)}`],
    ["names in quotation marks", `${HEAD}${rows(60, (at) => `"f",${at}.5,${-at}.25,0.1`)}`],
    ["all in quotation marks", `${HEAD}${rows(60, (at) => `"f ${at % 3}","${at}.5"," -${at}.25 ","0.1"`)}`],
    [
      "a separator between quotation marks",
      `${HEAD}${rows(60, (at) => `"f, ${at % 2}",${at}.5,${-at}.25,0.1`)}`,
    ],
    [
      "a quotation mark inside a name",
      `${HEAD}${rows(60, (at) => `"f ""${at % 2}""",${at}.5,${-at}.25,0.1`)}`,
    ],
    ["a blank beside quotation marks", `${HEAD}${rows(30)} "f",1,2,3\n"f" ,1,2,4\n${rows(30)}`],
    [
      "quotation marks from one row on",
      `${HEAD}${rows(30)}f,1,2,3\n"f",1,2,3\n"f",1,2,3\n"f","1",2,3\n${rows(30)}`,
    ],
    ["a remark between quotation marks", `${HEAD}${rows(30)}"#f",1,2,3\n${rows(30)}`],
    ["an empty name between quotation marks", `${HEAD}${rows(30)}"",1,2,3\n" ",1,2,3\n${rows(30)}`],
    ["another line end", `${HEAD}${rows(30)}f,1,2,3\r\n${rows(30)}`],
    ["CR alone", `${HEAD}${rows(30)}f,1,2,3\rf,1,2,4\n${rows(30)}`],
    ["a unit in a cell", `${HEAD}${rows(30)}f,1 in,2,3\n${rows(30)}`],
    ["NUL at the end", `${HEAD}${rows(30)}\0\0\0\0`],
    ["an end-of-file mark", `${HEAD}${rows(30)}\u001a`],
    ["a line that is too long", `${HEAD}${rows(30)}f,1,2,3${" ".repeat(70_000)}\n${rows(30)}`],
    ["a feature that comes back", `${HEAD}${rows(30)}g,1,2,3\n${rows(30)}`],
    ["a last row that is cut", `${HEAD}${rows(60)}f,1.5,2.25,0.00`],
    ["an empty last cell", `${HEAD}${rows(60)}f,1.5,2.25,`],
    ["rows said twice over a seam of parts", `${HEAD}${rows(60, () => "f,1.5,2.5,3.5")}`],
    ["zeros", `${HEAD}${rows(60, (at) => (at === 40 ? "f,0,0,0" : `f,${100 + at}.5,200.5,300.5`))}`],
  ])("with %s says the same", (_, text) => {
    for (const part of [60, 97, 200, 5000]) sameBothWays(logFile(text), null, { ...IN_PARTS, part });
  });
  it.each([
    ["names", (at: number) => `"f, 1",${at}.5,${-at}.25,0.1`],
    ["numbers", (at: number) => `f,"${at}.5","${-at}.25","0.123456789012"`],
  ])("with quotation marks about %s is read in parts all the same", (_, row) => {
    expect(sameBothWays(logFile(`${HEAD}${rows(60, row)}`))).toBe(true);
  });
  it("of Latin-1 says the same", () => {
    const text = `${HEAD}${rows(30)}`;
    const bytes = Uint8Array.from([
      ...new TextEncoder().encode(text),
      0x46,
      0xe4,
      ...new TextEncoder().encode(",1.5,2,3\n"),
    ]);
    sameBothWays(logFile(bytes));
  });
  it("of another decimal mark asks the same question", () => {
    sameBothWays(
      logFile(`# unit: mm\nfeature;x;y;z\n${rows(30, (at) => `f;1,5;2,5;${at},25`)}f;1.5;2,5;3,5\n`),
    );
  });
});

describe("a log too large for one text", () => {
  it("is refused with its line where something must be looked at as a whole", () => {
    const line = "# operator: m\n";
    const start = `${HEAD}${rows(3000, (at) => `f,${at}.5,${-at}.25,0.0001`)}${line}${rows(2000)}`;
    const count = Math.ceil(101_000_000 / start.length);
    const bytes = new TextEncoder().encode(start);
    const parts: LogParts = {
      length: count * bytes.length,
      part(from, to) {
        const out = new Uint8Array(to - from);
        for (let at = from; at < to; ) {
          const inside = at % bytes.length;
          const some = bytes.subarray(inside, Math.min(bytes.length, inside + to - at));
          out.set(some, at - from);
          at += some.length;
        }
        return out;
      },
    };
    const log = understandLog({ name: "huge.csv", bytes: parts, sha256: "" }, null);
    expect(log.ok ? "" : log.finding.text.text).toMatch(
      /^huge\.csv, line 3004: of a log of 101 MB, more than 100, only plain rows .* split the log/,
    );
  });
  it("has no plain copy and no drafted mapping, and says why", () => {
    const row = new TextEncoder().encode("f,1.5,2.5,3.5\n");
    const head = new TextEncoder().encode("# unit: mm\nfeature,x,y,z\n");
    const bytes: LogParts = {
      length: 110_000_000,
      part: (from, to) =>
        Uint8Array.from(
          { length: to - from },
          (_, i) => head[from + i] ?? row[(from + i - head.length) % row.length] ?? 0,
        ),
    };
    const notes = new Notebook("huge.csv");
    const opened = openLog({ name: "huge.csv", bytes, sha256: "" }, null, notes);
    expect("ok" in opened ? opened.finding.text.text : "opened").toMatch(
      /^huge\.csv: the log holds 110 MB, and at most 100 MB can be looked at as a whole; split it/,
    );
  });
  it("is refused where its rows do not fit into memory, and what was read of it is let go", () => {
    const text = `${HEAD}${rows(500)}`;
    const most = (mostRows: number) =>
      understandLog(logFile(text), null, { ...IN_PARTS, part: 1000, mostRows });
    expect(most(500).ok).toBe(true);
    const log = most(300);
    expect(log.ok ? "" : log.finding.text.text).toMatch(
      /^log\.csv, line 3\d\d: the log holds more than 0\.0003 million rows, .* split it, or touch fewer places$/,
    );
  });
  it("without line ends is refused after its start, however long", () => {
    let asked = 0;
    const bytes: LogParts = {
      length: 2 ** 31,
      part(from, to) {
        asked += to - from;
        return new Uint8Array(to - from).fill(0x61);
      },
    };
    const file: LogFile = {
      name: "endless.csv",
      bytes,
      get sha256(): string {
        throw new Error("the hash of a refused log was worked out");
      },
    };
    const log = understandLog(file, null);
    expect(log.ok ? "" : log.finding.code).toBe("line-too-long");
    expect(asked).toBeLessThan(200_000);
  });
  it("with a line that does not end, or garbage, deep inside is refused by samples", () => {
    const row = new TextEncoder().encode("f,1.5,2.5,3.5\n");
    const sound = (from: number, to: number): Uint8Array =>
      Uint8Array.from({ length: to - from }, (_, i) => row[(from + i) % row.length] ?? 0);
    for (const [code, byte] of [
      ["line-too-long", 0x31],
      ["not-text", 0x01],
    ] as const) {
      let asked = 0;
      const bytes: LogParts = {
        length: 2 ** 31,
        part(from, to) {
          asked += to - from;
          return from > 2 ** 24
            ? Uint8Array.from({ length: to - from }, (_, i) => (byte === 1 && i % 80 === 79 ? 10 : byte))
            : sound(from, to);
        },
      };
      const log = understandLog({ name: "deep.csv", bytes, sha256: "" }, null);
      expect(log.ok ? "" : log.finding.code).toBe(code);
      expect(asked).toBeLessThan(2 ** 22);
    }
  });
});
