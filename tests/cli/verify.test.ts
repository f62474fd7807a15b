// A finished PDF against a forger: whatever is exchanged, cut or painted over is refused; saved again by another program it is the same report.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { PDFDocument } from "pdf-lib";
import { afterAll, beforeAll, expect, it } from "vitest";
import { attachFiles } from "../../src/report/print/attach.ts";
import { extractPdf } from "../../src/report/print/extractPdf.ts";
import { openProgram, type Ran } from "./plinth.ts";

const plinth = openProgram();
afterAll(() => plinth.remove());

const PLAN = `plinth: 1
name: seat
title: Seat
decision: {rule: guarded}
instruments:
  probe: {uncertainty: 0.0005 mm}
logs: {instrument: probe}
features:
  face: {fit: plane, normal: [0, 0, 1]}
characteristics:
  - {id: flat, kind: flatness, of: face, max: 0.01 mm}
advice:
  - {kind: square-up, of: face, stops: [{name: left, x: -200 mm}, {name: right, x: 200 mm}], pivot: left}
sign-offs:
  - {id: stoned, ask: Seat stoned and wiped}
`;
const face = (height: number): string =>
  `# job: K-1\n# operation: 10\n# unit: mm\n# points: surface\nfeature,x,y,z\n${[-50, 0, 50]
    .flatMap((x) => [-50, 0, 50].map((y) => `face,${x},${y},${x === 0 && y === 0 ? height : x / 10_000}`))
    .join("\n")}\n`;
const SIGNED = "# job: K-1\n# operation: 10\ncheck,value\nstoned,yes\n";

type Files = Map<string, Uint8Array>;
let whole: Uint8Array;
let other: Uint8Array;
beforeAll(async () => {
  const made = async (height: number): Promise<Uint8Array> => {
    const folder = plinth.folder();
    for (const [name, text] of [
      ["face.csv", face(height)],
      ["signs.csv", SIGNED],
      ["seat.yaml", PLAN],
    ] as const)
      writeFileSync(join(folder, name), text);
    const given = [
      "report",
      join(folder, "face.csv"),
      join(folder, "signs.csv"),
      "--plan",
      join(folder, "seat.yaml"),
    ];
    const { code, err } = await plinth.run([...given, "--out", folder, "--issued", "2026-11-25T07:00:00Z"]);
    expect([code, err]).toEqual([0, ""]);
    return new Uint8Array(readFileSync(join(folder, "K-1_10_seat_r1.pdf")));
  };
  whole = await made(0.002);
  other = await made(0.003);
});

async function verify(bytes: Uint8Array): Promise<Ran> {
  const path = join(plinth.folder(), "given.pdf");
  writeFileSync(path, bytes);
  return plinth.run(["verify", path]);
}
async function attachmentsOf(bytes: Uint8Array): Promise<Files> {
  const pdf = await extractPdf(bytes);
  if (!pdf.ok) throw new Error(pdf.sentence);
  return new Map(pdf.attachments.map((file) => [file.name, file.bytes]));
}
/** Pages in a document of another program's making, with these files attached. */
async function rebuilt(pages: Uint8Array, files: Files, change = (_: PDFDocument): void => undefined) {
  const from = await PDFDocument.load(pages);
  const to = await PDFDocument.create();
  for (const page of await to.copyPages(from, from.getPageIndices())) to.addPage(page);
  change(to);
  return attachFiles(
    await to.save(),
    { title: "K-1", author: "", subject: "", creator: "another program", created: "2026-11-26T07:00:00Z" },
    [...files].map(([name, bytes]) => ({
      name,
      bytes,
      mime: "application/octet-stream",
      relationship: "Source" as const,
    })),
  );
}
const text = (files: Files, name: string): string => new TextDecoder().decode(files.get(name));
async function withFile(name: string, change: (before: string) => string): Promise<Uint8Array> {
  const files = await attachmentsOf(whole);
  const after = change(text(files, name));
  expect(after).not.toBe(text(files, name));
  files.set(name, new TextEncoder().encode(after));
  return rebuilt(whole, files);
}

it("is accepted as it was made, and saved again by another program in either way of writing", async () => {
  const resaved = async (useObjectStreams: boolean): Promise<Uint8Array> =>
    (await PDFDocument.load(whole)).save({ useObjectStreams });
  for (const bytes of [
    whole,
    await resaved(true),
    await resaved(false),
    await rebuilt(whole, await attachmentsOf(whole)),
  ]) {
    const { code, out, err } = await verify(bytes);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toContain("pages is what this report prints");
  }
}, 120_000);

it.each([
  [
    "a word painted onto a page",
    /page 1 says "/,
    () => rebuiltWhole((pdf) => void pdf.getPage(0).drawText("PASS", { x: 80, y: 700 })),
  ],
  [
    "a page taken out",
    /it has \d+ pages, a fresh printing has \d+/,
    () => rebuiltWhole((pdf) => pdf.removePage(1)),
  ],
  ["the pages of another report", /page \d says "/, async () => rebuilt(other, await attachmentsOf(whole))],
  [
    "a reading changed in the log",
    /log face\.csv/,
    () => withFile("face.csv", (log) => log.replace("0.002", "0.001")),
  ],
  [
    "the log of another report",
    /log face\.csv/,
    async () => {
      const files = await attachmentsOf(whole);
      files.set("face.csv", (await attachmentsOf(other)).get("face.csv") ?? new Uint8Array());
      return rebuilt(whole, files);
    },
  ],
  [
    "a limit changed in the plan",
    /plan seat/,
    () => withFile("seat.yaml", (plan) => plan.replace("0.01 mm", "0.02 mm")),
  ],
  [
    "a value changed in the record",
    /characteristic flat, value/,
    () =>
      withFile("report.json", (json) => json.replace(/("id": "flat",[\s\S]*?"value": )[\d.e-]+/, "$10.001")),
  ],
  [
    "the last bit of a value",
    /characteristic flat, value/,
    () =>
      withFile("report.json", (json) =>
        json.replace(
          /("id": "flat",[\s\S]*?"value": )([\d.e-]+)/,
          (_, before: string, number: string) => before + String(Number(number) * (1 + 2 ** -52)),
        ),
      ),
  ],
  [
    "a verdict changed in the record",
    /verdict/,
    () => withFile("report.json", (json) => json.replaceAll('"verdict": "pass"', '"verdict": "fail"')),
  ],
  [
    "a move changed in the record",
    /advice square-up/,
    () => withFile("report.json", (json) => json.replace(/("amount": )-?[\d.e-]+/, "$11.5")),
  ],
  [
    "a signature changed in the record",
    /sign-off stoned/,
    () =>
      withFile("report.json", (json) => json.replace(/("id": "stoned",[\s\S]*?"value": )"yes"/, '$1"no"')),
  ],
  ["the attachments taken away", /carries no report\.json/, async () => rebuilt(whole, new Map())],
  [
    "the log taken away",
    /log face\.csv is named by its hash only/,
    async () => {
      const files = await attachmentsOf(whole);
      files.delete("face.csv");
      return rebuilt(whole, files);
    },
  ],
  ["its end cut off", /./, async () => whole.subarray(0, Math.floor(whole.length * 0.6))],
  [
    "no report at all",
    /carries no report\.json/,
    async () => {
      const pdf = await PDFDocument.create();
      pdf.addPage().drawText("Invoice");
      return pdf.save();
    },
  ],
] as const)(
  "is refused with %s",
  async (_, because, forged) => {
    const { code, out } = await verify(await forged());
    expect(code).toBe(3);
    expect(out).toMatch(because);
  },
  60_000,
);
const rebuiltWhole = async (change: (pdf: PDFDocument) => void): Promise<Uint8Array> =>
  rebuilt(whole, await attachmentsOf(whole), change);

it("accepts a report whose plan and logs begin with a byte order mark, page and record", async () => {
  const folder = plinth.folder();
  const marked = (name: string, content: string): string => {
    writeFileSync(join(folder, name), `\ufeff${content}`);
    return join(folder, name);
  };
  const logs = [marked("face.csv", face(0.002)), marked("signs.csv", SIGNED)];
  const given = ["report", ...logs, "--plan", marked("seat.yaml", PLAN), "--out", folder];
  expect((await plinth.run(given)).code).toBe(0);
  for (const kind of ["json", "pdf"]) {
    const { code, out } = await plinth.run(["verify", join(folder, `K-1_10_seat_r1.${kind}`)]);
    expect([code, out]).toEqual([0, expect.stringContaining("ACCEPTED")]);
  }
}, 120_000);
