import type { PDFDocument, PDFObject } from "pdf-lib";
import { PDFArray, PDFDict, PDFName, PDFRef, PDFString } from "pdf-lib";

const ID = PDFName.of("ID");
const ATTRIBUTES = PDFName.of("A");
const OWNER = PDFName.of("O");

function idOf(value: PDFObject | undefined): string | undefined {
  return value instanceof PDFString && /^node\d+$/.test(value.asString()) ? value.asString() : undefined;
}

/** Every id inside the value, also in nested lists, gives way to its new one. */
function replaceIds(value: PDFObject, fresh: ReadonlyMap<string, PDFString>): void {
  const entries: [PDFObject, (id: PDFString) => void][] = [];
  if (value instanceof PDFArray) {
    value.asArray().forEach((item, at) => {
      entries.push([item, (id) => value.set(at, id)]);
    });
  } else if (value instanceof PDFDict) {
    for (const [key, item] of value.entries()) entries.push([item, (id) => value.set(key, id)]);
  }
  for (const [item, set] of entries) {
    const id = fresh.get(idOf(item) ?? "");
    if (id) set(id);
    else replaceIds(item, fresh);
  }
}

function deleteKids(pdf: PDFDocument, node: PDFDict): void {
  for (const kid of node.lookupMaybe(PDFName.of("Kids"), PDFArray)?.asArray() ?? []) {
    if (!(kid instanceof PDFRef)) continue;
    deleteKids(pdf, pdf.context.lookup(kid, PDFDict));
    pdf.context.delete(kid);
  }
}

/**
 * Gives the elements of a tagged PDF ids in the order in which they stand in the file. The browser counts on from one
 * print to the next, so that two prints of one page would differ.
 * Source: ISO 32000-1, 14.7.2 (IDTree), 14.8.5.7 (Headers), 7.9.6 (name trees are sorted).
 */
export function renumberStructIds(pdf: PDFDocument): void {
  const fresh = new Map<string, PDFString>();
  const names: PDFObject[] = [];
  const objects = pdf.context.enumerateIndirectObjects();
  for (const [reference, object] of objects) {
    const old = object instanceof PDFDict ? idOf(object.get(ID)) : undefined;
    if (old === undefined || fresh.has(old)) continue;
    const id = PDFString.of(`node${String(fresh.size + 1).padStart(8, "0")}`);
    fresh.set(old, id);
    names.push(id, reference);
  }
  for (const [, object] of objects) {
    if (!(object instanceof PDFDict)) continue;
    const id = fresh.get(idOf(object.get(ID)) ?? "");
    if (id) object.set(ID, id);
    // Other elements' ids stand in attributes only, inside the element or as an object of their own.
    const attributes = object.has(OWNER) ? object : object.lookup(ATTRIBUTES);
    if (attributes) replaceIds(attributes, fresh);
  }
  // Only now, because the old and the new ids overlap.
  const tree = pdf.catalog
    .lookupMaybe(PDFName.of("StructTreeRoot"), PDFDict)
    ?.lookupMaybe(PDFName.of("IDTree"), PDFDict);
  if (tree) {
    deleteKids(pdf, tree);
    for (const key of ["Kids", "Limits"]) tree.delete(PDFName.of(key));
    tree.set(PDFName.of("Names"), pdf.context.obj(names));
  }
}
