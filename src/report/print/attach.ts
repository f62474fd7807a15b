import { createHash } from "node:crypto";
import { deflateSync } from "node:zlib";
import type { PDFContext, PDFObject, PDFRef } from "pdf-lib";
import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFStreamWriter, PDFString } from "pdf-lib";
import { renumberStructIds } from "./structIds.ts";

/** A file to be enclosed in the PDF. */
export interface Attachment {
  /** Name of the file, without a folder; names within one PDF differ. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Media type, for example text/csv. */
  readonly mime: string;
  readonly description?: string;
  /** Source: the page was made from it. Data: it holds what the page shows. Source: ISO 32000-2, 7.11.3. */
  readonly relationship: "Source" | "Data";
}

/** What the PDF says about itself. */
export interface PdfMetadata {
  readonly title: string;
  readonly author: string;
  readonly subject: string;
  readonly creator: string;
  /** Time of issue, ISO 8601; it is the only time in the file. */
  readonly created: string;
}

/** Sheet sizes, width and height in points of 1/72 inch: ISO 216 A4 is 210 x 297 mm, ANSI A 8.5 x 11 in. */
export const SHEETS = {
  a4: { width: (210 / 25.4) * 72, height: (297 / 25.4) * 72 },
  letter: { width: 612, height: 792 },
} as const;

/** The name of a sheet. */
export type Sheet = keyof typeof SHEETS;

// The browser rounds the sheet to its own raster; what lies further off was asked for by the page itself.
const SHEET_SLACK_POINTS = 1.5;
const ALL_AT_ONCE = Number.POSITIVE_INFINITY;
const ID_PLACE = "0".repeat(64);

function exactSheets(pdf: PDFDocument): void {
  for (const page of pdf.getPages()) {
    const { width, height } = page.getMediaBox();
    for (const sheet of Object.values(SHEETS)) {
      const near = (one: number, other: number) => Math.abs(one - other) <= SHEET_SLACK_POINTS;
      if (near(width, sheet.width) && near(height, sheet.height)) {
        // The browser measures from the top edge: the box is cut or let out at the bottom.
        page.setMediaBox(0, height - sheet.height, sheet.width, sheet.height);
      } else if (near(width, sheet.height) && near(height, sheet.width)) {
        page.setMediaBox(0, height - sheet.width, sheet.height, sheet.width);
      }
    }
  }
}

function setInformation(pdf: PDFDocument, metadata: PdfMetadata, created: Date): void {
  pdf.setTitle(metadata.title, { showInWindowTitleBar: true });
  pdf.setAuthor(metadata.author);
  pdf.setSubject(metadata.subject);
  pdf.setCreator(metadata.creator);
  pdf.setCreationDate(created);
  pdf.setModificationDate(created);
}

/** A name for readers that know ASCII only; the full name stands beside it. */
function asciiName(name: string): PDFString {
  return PDFString.of(name.replace(/[^ A-Za-z0-9._+-]/g, "-"));
}

function fileSpecification(context: PDFContext, file: Attachment, created: Date): PDFRef {
  const date = PDFString.fromDate(created);
  const checkSum = PDFHexString.of(createHash("md5").update(file.bytes).digest("hex"));
  const stream = context.stream(deflateSync(file.bytes), {
    Type: "EmbeddedFile",
    Subtype: file.mime,
    Filter: "FlateDecode",
    Params: { Size: file.bytes.length, CreationDate: date, ModDate: date, CheckSum: checkSum },
  });
  const embedded = context.register(stream);
  const entries: Record<string, PDFObject> = {
    Type: PDFName.of("Filespec"),
    F: asciiName(file.name),
    UF: PDFHexString.fromText(file.name),
    EF: context.obj({ F: embedded, UF: embedded }),
    AFRelationship: PDFName.of(file.relationship),
  };
  if (file.description !== undefined) entries.Desc = PDFHexString.fromText(file.description);
  return context.register(context.obj(entries));
}

function encloseFiles(pdf: PDFDocument, files: readonly Attachment[], created: Date): void {
  const names = new Set(files.map((file) => file.name));
  if (names.size < files.length) throw new Error("two files to be enclosed in one PDF have the same name");
  if (files.length === 0) return;
  const keyed = files.map((file) => ({
    key: PDFHexString.fromText(file.name),
    reference: fileSpecification(pdf.context, file, created),
  }));
  const order = keyed.map(({ reference }) => reference);
  // A name tree is sorted by the bytes of its keys (ISO 32000-1, 7.9.6); hex digits sort like bytes.
  keyed.sort((one, other) => (one.key.asString() < other.key.asString() ? -1 : 1));
  const catalog = pdf.catalog;
  const tree = catalog.lookupMaybe(PDFName.of("Names"), PDFDict) ?? pdf.context.obj({});
  tree.set(
    PDFName.of("EmbeddedFiles"),
    pdf.context.obj({ Names: keyed.flatMap(({ key, reference }) => [key, reference]) }),
  );
  catalog.set(PDFName.of("Names"), tree);
  const associated = catalog.lookupMaybe(PDFName.of("AF"), PDFArray) ?? pdf.context.obj([]);
  for (const reference of order) associated.push(reference);
  catalog.set(PDFName.of("AF"), associated);
  // Associated files came with version 2.0.
  catalog.set(PDFName.of("Version"), PDFName.of("2.0"));
}

/** Puts an id made from the file's own bytes into the place kept for it: same content, same id. */
function setId(bytes: Uint8Array): void {
  const id = createHash("sha256")
    .update(bytes)
    .digest("hex")
    .slice(0, ID_PLACE.length / 2);
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const half = ID_PLACE.slice(0, ID_PLACE.length / 2);
  const place = Buffer.from(`<${half}>`, "latin1");
  for (let times = 0; times < 2; times += 1) {
    const at = buffer.lastIndexOf(place);
    if (at < 0) throw new Error("the place of the document's id was not found");
    buffer.write(id, at + 1, "latin1");
  }
}

/**
 * Finishes a printed PDF: encloses files, sets the metadata and the exact sheet, and takes out everything that
 * would make two prints of one page differ. Tags and outline stay.
 * @param printed the PDF as the browser made it
 * @param metadata texts and the time of issue, the only time in the file
 * @param attachments files to enclose, byte for byte
 * @returns the finished file; the same bytes for the same input
 * @throws Error when two files have the same name or the time cannot be read
 */
export async function attachFiles(
  printed: Uint8Array,
  metadata: PdfMetadata,
  attachments: readonly Attachment[] = [],
): Promise<Uint8Array> {
  const created = new Date(metadata.created);
  if (Number.isNaN(created.getTime())) throw new Error(`not a time: ${metadata.created}`);
  // The library pauses after so many objects; between two prints nobody waits for the time in between.
  const pdf = await PDFDocument.load(printed, { updateMetadata: false, parseSpeed: ALL_AT_ONCE });
  renumberStructIds(pdf);
  exactSheets(pdf);
  setInformation(pdf, metadata, created);
  encloseFiles(pdf, attachments, created);
  const half = PDFHexString.of(ID_PLACE.slice(0, ID_PLACE.length / 2));
  pdf.context.trailerInfo.ID = pdf.context.obj([half, half]);
  // One stream of objects in place of one for each fifty: no larger, and written in less time.
  const bytes = await PDFStreamWriter.forContext(
    pdf.context,
    ALL_AT_ONCE,
    true,
    ALL_AT_ONCE,
  ).serializeToBuffer();
  setId(bytes);
  return bytes;
}
