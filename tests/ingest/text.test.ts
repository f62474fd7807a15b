import { describe, expect, it } from "vitest";
import { decision, feature, latin1, leftOut, points, sentence, understood, utf16 } from "./helpers.ts";

const LOG = "# unit: mm\nfeature;x;y;z;note\nfläche;1,5;-2,25;3,125;µ\nfläche;2,5;-2,25;3,5;\n";
const POINTS = [
  [1.5, -2.25, 3.125],
  [2.5, -2.25, 3.5],
];
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

describe("encodings", () => {
  it.each([
    ["UTF-8", bytes(LOG)],
    ["UTF-8", bytes(`\ufeff${LOG}`)],
    ["UTF-16 LE", utf16(LOG, "le")],
    ["UTF-16 BE", utf16(LOG, "be")],
    ["Latin-1", latin1(LOG)],
  ])("reads %s", (encoding, content) => {
    const log = understood(content);
    expect(points(log, "fläche")).toEqual(POINTS);
    expect(decision(log, "encoding")).toMatch(new RegExp(`^${encoding}: .`));
  });
  it("keeps the exact text of UTF-8, mark and line ends included, and none of others", () => {
    for (const text of [LOG, `\ufeff${LOG.replaceAll("\n", "\r\n")}`]) {
      const kept = understood(bytes(text)).record.text;
      expect(kept).not.toBeNull();
      expect(bytes(kept ?? "")).toEqual(bytes(text));
    }
    expect(understood(latin1(LOG)).record.text).toBeNull();
    expect(understood(utf16(LOG, "le")).record.text).toBeNull();
  });
  it("refuses what is cut inside a character, unmarked UTF-16 and what is no text", () => {
    expect(sentence(utf16(LOG, "le").slice(0, 31))).toContain("cut inside a character");
    expect(sentence(utf16(LOG, "le").slice(2))).toContain("looks like UTF-16 without its mark");
    expect(sentence(Uint8Array.of(0xef, 0xbb, 0xbf, 0x41, 0xff, 0x42))).toContain("the mark of UTF-8");
    expect(
      sentence(Uint8Array.from({ length: 3000 }, (_, at) => (at * 7919 + ((at * at) % 251)) & 255)),
    ).toContain("this is no text");
  });
  it("takes NUL padding for blanks at the ends of a line and never inside a number", () => {
    const log = understood("# unit: mm\nfeature,x,y,z\n\0\0f,1,2,3\0\0\nf,1\u00002,2,3\n\0\0\0\n");
    expect(points(log)).toEqual([[1, 2, 3]]);
    expect(log.record.excluded.map((row) => row.line)).toEqual([4]);
  });
});

describe("lines", () => {
  it.each([
    ["LF", "\n"],
    ["CRLF", "\r\n"],
    ["CR", "\r"],
  ])("end in %s", (name, end) => {
    const log = understood(LOG.replaceAll("\n", end));
    expect(points(log)).toEqual(POINTS);
    expect([...feature(log).readings.line]).toEqual([3, 4]);
    expect(decision(log, "line ends")).toMatch(new RegExp(`^${name}:`));
  });
  it("may end in several ways in one log", () => {
    const log = understood("# unit: mm\r\nfeature,x,y,z\rf,1,2,3\nf,4,5,6\r\n");
    expect([...feature(log).readings.line]).toEqual([3, 4]);
    expect(decision(log, "line ends")).toBe("CRLF and CR and LF: the file mixes them; each ends a line");
  });
  it("count right behind a quoted line break", () => {
    const log = understood(
      '# unit: mm\nfeature,x,y,z,note\nf,1,2,3,"two\nlines ""quoted"""\nf,1,2,oops,\nf,4,5,6,"three\n\nlines"\nf,7,8,9,\n',
    );
    expect([...feature(log).readings.line]).toEqual([3, 6, 9]);
    expect(leftOut(log)).toEqual(["5: z: oops is not a number"]);
  });
  it("do not vanish behind a quotation mark that is never closed", () => {
    const log = understood('# unit: mm\nfeature,x,y,z\n"f",1,2,3\nf,1,2,"4\nf,1,2,5\n"f"x,1,2,6\nf,1,2,7\n');
    expect(points(log).map((point) => point[2])).toEqual([3, 5, 7]);
    expect(log.record.excluded.map((row) => row.line)).toEqual([4, 6]);
  });
  it("a remark with a quotation mark swallows nothing", () => {
    const log = understood('# unit: mm\nfeature,x,y,z\nf,1,2,3\n# moved 2,"\nf,1,2,4\n');
    expect([...feature(log).readings.line]).toEqual([3, 5]);
  });
  it("that are empty or only separators are no rows", () => {
    const log = understood("# unit: mm\n\nfeature,x,y,z\n\nf,1,2,3\n,,,\n   \nf,1,2,4\n,,,,,,\n");
    expect(log.record.rows).toBe(2);
    expect(log.record.excluded).toEqual([]);
  });
});

describe("a last row without line end", () => {
  const start = "# unit: mm\nfeature,x,y,z\nf,1.000,2.000,3.000\n";
  const told = (text: string) => {
    const log = understood(text);
    return [
      points(log).length,
      ...log.findings.map((finding) => `${finding.level} ${finding.code} ${finding.line}`),
    ];
  };
  it("is kept with a note when it is whole", () => {
    expect(told(`${start}f,1.000,2.000,4.000`)).toEqual([2, "note last-row-without-line-end 4"]);
  });
  it.each(["f,1.000,2.000,4.00", "f,1.000,2.000,4", "f,1.000,2.000,", "f,1.000,2.000", "f,1.0", "f"])(
    "is left out with a warning when it is cut: %s",
    (row) => {
      const log = understood(start + row);
      expect(points(log)).toHaveLength(1);
      expect(log.record.excluded.map((entry) => entry.line)).toEqual([4]);
      expect(log.findings.map((finding) => finding.code)).toContain("last-row-cut");
    },
  );
  it("may have an empty note, and numbers before the last cell are closed by their separators", () => {
    const noted = "# unit: mm\nfeature,x,y,z,note\nf,1.000,2.000,3.000,\n";
    expect(told(`${noted}f,1.5,2.000,4.000,`)).toEqual([2, "note last-row-without-line-end 4"]);
  });
  it("is no question when a remark or blank line follows", () => {
    expect(told(`${start}f,1,2,3\n# end`)).toEqual([2]);
  });
});
