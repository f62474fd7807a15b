// Printed pages as small grey pictures: the PDF itself is drawn, by the browser that printed it.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Browser, Page } from "puppeteer";
import { startBrowser } from "../../src/report/print/browserProcess.ts";
import { findBrowser } from "../../src/report/print/findBrowser.ts";
import type { PageInk } from "./compare.ts";

/** One cell is 2 mm of paper. */
const MM_PER_CELL = 2;
/** Pixels drawn for each side of a cell before they are averaged. */
const FINE = 3;

export interface PageDrawer {
  /** Ink of every page of a PDF. */
  draw(pdf: Uint8Array): Promise<readonly PageInk[]>;
  /** The pages side by side as a PNG. */
  encode(pages: readonly PageInk[]): Promise<Buffer>;
  decode(png: Uint8Array, pages: number): Promise<readonly PageInk[]>;
  close(): Promise<void>;
}

type Plain = { readonly columns: number; readonly rows: number; readonly ink: number[] };
const inkOf = ({ columns, rows, ink }: Plain): PageInk => ({ columns, rows, ink: Float64Array.from(ink) });
const base64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString("base64");

export async function openPageDrawer(): Promise<PageDrawer> {
  const choice = await findBrowser();
  if ("missing" in choice) throw new Error(choice.missing);
  const started = await startBrowser(choice, 60_000);
  const page = await (started.browser as unknown as Browser).newPage();
  const build = createRequire(import.meta.url).resolve("pdfjs-dist/legacy/build/pdf.mjs");
  for (const file of [build.replace("pdf.mjs", "pdf.worker.mjs"), build])
    await page.addScriptTag({ content: readFileSync(file, "utf8"), type: "module" });
  return {
    draw: async (pdf) => (await drawPages(page, base64(pdf))).map(inkOf),
    encode: async (pages) => Buffer.from(await encoded(page, pages), "base64"),
    decode: async (png, pages) => (await decoded(page, base64(png), pages)).map(inkOf),
    close: () => started.close(),
  };
}

const drawPages = (page: Page, pdf: string): Promise<Plain[]> =>
  page.evaluate(
    async (data, mmPerCell, fine) => {
      interface Sheet {
        getViewport(options: { scale: number }): { width: number; height: number };
        render(options: object): { promise: Promise<void> };
      }
      const library = (
        globalThis as unknown as {
          pdfjsLib: {
            getDocument(options: object): {
              promise: Promise<{ numPages: number; getPage(number: number): Promise<Sheet> }>;
            };
          };
        }
      ).pdfjsLib;
      const bytes = Uint8Array.from(atob(data), (one) => one.charCodeAt(0));
      const file = await library.getDocument({ data: bytes, isEvalSupported: false }).promise;
      const pages: { columns: number; rows: number; ink: number[] }[] = [];
      for (let number = 1; number <= file.numPages; number++) {
        const sheet = await file.getPage(number);
        const viewport = sheet.getViewport({ scale: (fine / mmPerCell) * (25.4 / 72) });
        const [columns, rows] = [Math.ceil(viewport.width / fine), Math.ceil(viewport.height / fine)];
        const canvas = document.createElement("canvas");
        [canvas.width, canvas.height] = [columns * fine, rows * fine];
        const context = canvas.getContext("2d", { willReadFrequently: true });
        if (context === null) throw new Error("no canvas");
        context.fillStyle = "#fff";
        context.fillRect(0, 0, canvas.width, canvas.height);
        await sheet.render({ canvas, canvasContext: context, viewport }).promise;
        const { data: pixels } = context.getImageData(0, 0, canvas.width, canvas.height);
        const ink = new Array<number>(columns * rows).fill(0);
        for (let y = 0; y < canvas.height; y++)
          for (let x = 0; x < canvas.width; x++) {
            const at = 4 * (y * canvas.width + x);
            const grey = ((pixels[at] ?? 0) + (pixels[at + 1] ?? 0) + (pixels[at + 2] ?? 0)) / 3;
            const cell = Math.floor(y / fine) * columns + Math.floor(x / fine);
            ink[cell] = (ink[cell] ?? 0) + (255 - grey) / 255 / (fine * fine);
          }
        pages.push({ columns, rows, ink });
      }
      return pages;
    },
    pdf,
    MM_PER_CELL,
    FINE,
  );

const encoded = (page: Page, pages: readonly PageInk[]): Promise<string> =>
  page.evaluate(
    (all) => {
      const canvas = document.createElement("canvas");
      canvas.width = all.reduce((sum, { columns }) => sum + columns, 0);
      canvas.height = Math.max(...all.map(({ rows }) => rows));
      const context = canvas.getContext("2d");
      if (context === null) throw new Error("no canvas");
      let left = 0;
      for (const { columns, rows, ink } of all) {
        const image = context.createImageData(columns, rows);
        ink.forEach((one, cell) => {
          const grey = Math.round(255 * (1 - one));
          image.data.set([grey, grey, grey, 255], 4 * cell);
        });
        context.putImageData(image, left, 0);
        left += columns;
      }
      return canvas.toDataURL("image/png").split(",")[1] ?? "";
    },
    pages.map(({ columns, rows, ink }) => ({ columns, rows, ink: [...ink] })),
  );

const decoded = (page: Page, png: string, pages: number): Promise<Plain[]> =>
  page.evaluate(
    async (data, count) => {
      const image = new Image();
      image.src = `data:image/png;base64,${data}`;
      await image.decode();
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [image.width, image.height];
      const context = canvas.getContext("2d");
      if (context === null) throw new Error("no canvas");
      context.drawImage(image, 0, 0);
      const columns = image.width / count;
      return Array.from({ length: count }, (_, index) => {
        const { data: pixels } = context.getImageData(index * columns, 0, columns, image.height);
        const ink = Array.from(
          { length: columns * image.height },
          (_unused, cell) => (255 - (pixels[4 * cell] ?? 255)) / 255,
        );
        return { columns, rows: image.height, ink };
      });
    },
    png,
    pages,
  );
