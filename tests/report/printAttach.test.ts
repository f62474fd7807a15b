import { createHash } from "node:crypto";
import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFString } from "pdf-lib";
import { describe, expect, it } from "vitest";
import type { Attachment } from "../../src/report/print/attach.ts";
import { attachFiles } from "../../src/report/print/attach.ts";
import { extractPdf } from "../../src/report/print/extractPdf.ts";

const metadata = {
  title: "Étude (1) \\ µm",
  author: "Shop",
  subject: "Setup",
  creator: "Plinth",
  created: "2026-11-25T07:00:00Z",
};

async function blank(width = 594.96, height = 841.92): Promise<Uint8Array> {
  const pdf = await PDFDocument.create();
  pdf.addPage([width, height]).drawText("Seat 0.0125", { x: 72, y: 72 });
  return pdf.save();
}

function file(
  name: string,
  bytes: Uint8Array | string,
  relationship: Attachment["relationship"] = "Source",
): Attachment {
  return {
    name,
    bytes: typeof bytes === "string" ? Buffer.from(bytes) : bytes,
    mime: "text/csv",
    relationship,
  };
}

/** A file with table headers as a browser writes them, the ids counted on from `start`, the tree split in two. */
async function tagged(start: number): Promise<Uint8Array> {
  const pdf = await PDFDocument.create({ updateMetadata: false });
  pdf.addPage();
  const { context } = pdf;
  const ids = [0, 1, 2].map((at) => PDFString.of(`node${String(start + at).padStart(8, "0")}`));
  const elements = ids.map((id) => context.register(context.obj({ Type: "StructElem", S: "TH", ID: id })));
  const cell = context.register(
    context.obj({ Type: "StructElem", S: "TD", A: [{ O: "Table", Headers: [ids[2]!, ids[0]!] }] }),
  );
  const leaf = (at: number[]) =>
    context.register(
      context.obj({
        Limits: [ids[at[0]!]!, ids[at.at(-1)!]!],
        Names: at.flatMap((i) => [ids[i]!, elements[i]!]),
      }),
    );
  const tree = context.register(context.obj({ Kids: [leaf([0, 1]), leaf([2])] }));
  const root = context.obj({ Type: "StructTreeRoot", K: [...elements, cell], IDTree: tree });
  pdf.catalog.set(PDFName.of("StructTreeRoot"), context.register(root));
  return pdf.save({ addDefaultPage: false });
}

describe("finishing a PDF", () => {
  it("encloses files byte for byte under any name, and reads them back", async () => {
    const every = Uint8Array.from({ length: 70_000 }, (_unused, at) => (at * 31 + (at >> 8)) & 255);
    const names = [
      "report.json",
      "b) (.csv",
      "a.csv",
      "Größe µ.csv",
      "日本.csv",
      "<x>&'\".csv",
      "-.csv",
      "empty.csv",
    ];
    const files = names.map((name, at) => file(name, name === "empty.csv" ? "" : every.subarray(at)));
    const found = await extractPdf(await attachFiles(await blank(), metadata, files));
    if (!found.ok) throw new Error(found.sentence);
    expect(found.attachments.map(({ name }) => name).sort()).toEqual([...names].sort());
    for (const { name, bytes } of files) {
      const same = found.attachments.find((one) => one.name === name)!;
      expect(Buffer.from(same.bytes).equals(bytes), name).toBe(true);
    }
    expect(found.pages).toEqual(["Seat 0.0125"]);
    expect(found.title).toBe(metadata.title);
  });

  it("says of each file what it is, when it was made and that it is whole; names are sorted for readers", async () => {
    const files = [
      { ...file("z.csv", "1,2"), description: "Log (µm)" },
      { ...file("a.json", "{}", "Data"), mime: "application/json" },
    ];
    const pdf = await PDFDocument.load(await attachFiles(await blank(), metadata, files), {
      updateMetadata: false,
    });
    const tree = pdf.catalog
      .lookup(PDFName.of("Names"), PDFDict)
      .lookup(PDFName.of("EmbeddedFiles"), PDFDict);
    const names = tree.lookup(PDFName.of("Names"), PDFArray);
    expect([0, 2].map((at) => names.lookup(at, PDFHexString).decodeText())).toEqual(["a.json", "z.csv"]);
    const [data, source] = [1, 3].map((at) => names.lookup(at, PDFDict));
    expect(data!.get(PDFName.of("AFRelationship"))).toBe(PDFName.of("Data"));
    expect(source!.get(PDFName.of("AFRelationship"))).toBe(PDFName.of("Source"));
    expect(source!.lookup(PDFName.of("Desc"), PDFHexString).decodeText()).toBe("Log (µm)");
    const stream = source!.lookup(PDFName.of("EF"), PDFDict).lookup(PDFName.of("F"));
    const text = String(stream);
    expect(text).toContain("/Subtype /text#2Fcsv");
    expect(text).toContain("(D:20261125070000Z)");
    expect(text).toContain(createHash("md5").update("1,2").digest("hex"));
    expect(pdf.catalog.lookup(PDFName.of("AF"), PDFArray).size()).toBe(2);
  });

  it("refuses two files of one name and a time that is none", async () => {
    const pdf = await blank();
    await expect(attachFiles(pdf, metadata, [file("a", "1"), file("a", "2")])).rejects.toThrow(/same name/);
    await expect(attachFiles(pdf, { ...metadata, created: "soon" })).rejects.toThrow("not a time: soon");
  });

  it("holds the time of issue and no other, and an id that follows the content", async () => {
    const id = async (bytes: Uint8Array) => {
      const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
      expect(pdf.getCreationDate()?.toISOString()).toBe("2026-11-25T07:00:00.000Z");
      expect(pdf.getModificationDate()?.toISOString()).toBe("2026-11-25T07:00:00.000Z");
      return String(pdf.context.trailerInfo.ID);
    };
    const printed = await blank();
    const one = await attachFiles(printed, metadata, [file("a", "1")]);
    const same = await attachFiles(printed, metadata, [file("a", "1")]);
    const other = await attachFiles(printed, metadata, [file("a", "2")]);
    expect(Buffer.from(one).equals(same)).toBe(true);
    expect(await id(one)).toMatch(/^\[ <[0-9a-f]{32}> <[0-9a-f]{32}> \]$/);
    expect(await id(one)).not.toBe(`[ <${"0".repeat(32)}> <${"0".repeat(32)}> ]`);
    expect(await id(other)).not.toBe(await id(one));
  });

  it("makes the ids of tagged elements the same, whatever the browser counted from", async () => {
    const one = await attachFiles(await tagged(17), metadata);
    const other = await attachFiles(await tagged(99_999_996), metadata);
    // Old and new ids overlap here.
    expect(Buffer.from(await attachFiles(await tagged(2), metadata)).equals(one)).toBe(true);
    expect(Buffer.from(one).equals(other)).toBe(true);
    const pdf = await PDFDocument.load(one, { updateMetadata: false });
    const root = pdf.catalog.lookup(PDFName.of("StructTreeRoot"), PDFDict);
    const names = root.lookup(PDFName.of("IDTree"), PDFDict).lookup(PDFName.of("Names"), PDFArray);
    const keys = [0, 2, 4].map((at) => names.lookup(at, PDFString).asString());
    expect(names.size()).toBe(6);
    expect(keys).toEqual([...keys].sort());
    for (const at of [0, 2, 4]) {
      // Each entry leads to the element which bears its id.
      expect(
        names
          .lookup(at + 1, PDFDict)
          .lookup(PDFName.of("ID"), PDFString)
          .asString(),
      ).toBe(keys[at / 2]);
    }
    const cell = root.lookup(PDFName.of("K"), PDFArray).lookup(3, PDFDict);
    const headers = cell
      .lookup(PDFName.of("A"), PDFArray)
      .lookup(0, PDFDict)
      .lookup(PDFName.of("Headers"), PDFArray);
    expect(headers.asArray().map(String)).toEqual([`(${keys[2]})`, `(${keys[0]})`]);
  });

  it("makes the sheet exact, and leaves a sheet of another size alone", async () => {
    const sizes = async (width: number, height: number) => {
      const found = await extractPdf(await attachFiles(await blank(width, height), metadata));
      return found.ok ? found.sizes[0] : undefined;
    };
    const a4 = await sizes(594.96, 841.92);
    expect(a4!.width).toBeCloseTo((210 / 25.4) * 72, 3);
    expect(a4!.height).toBeCloseTo((297 / 25.4) * 72, 3);
    const across = await sizes(841.92, 594.96);
    expect(across!.width).toBeCloseTo((297 / 25.4) * 72, 3);
    expect(await sizes(612, 792)).toEqual({ width: 612, height: 792 });
    expect(await sizes(300, 400)).toEqual({ width: 300, height: 400 });
  });
});

describe("reading a PDF", () => {
  it("gives a sentence for what is no PDF, and leaves the caller's bytes alone", async () => {
    const found = await extractPdf(Buffer.from("%PDF-1.7 not really"));
    expect(found).toEqual({
      ok: false,
      sentence: expect.stringMatching(/^The file cannot be read as a PDF: .*\.$/),
    });
    const bytes = await blank();
    const before = Buffer.from(bytes).toString("hex");
    await extractPdf(bytes);
    expect(Buffer.from(bytes).toString("hex")).toBe(before);
  });

  it("finds the enclosed files after another program saved the PDF again", async () => {
    const first = await attachFiles(await blank(), metadata, [file("a.csv", "x,y\n1,2\n")]);
    const again = await (await PDFDocument.load(first)).save({ useObjectStreams: false });
    const found = await extractPdf(again);
    expect(
      found.ok && found.attachments.map(({ name, bytes }) => [name, Buffer.from(bytes).toString()]),
    ).toEqual([["a.csv", "x,y\n1,2\n"]]);
  });
});
