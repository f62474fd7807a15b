import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { brotliCompressSync } from "node:zlib";
import { PDFArray, PDFDict, PDFDocument, PDFName, PDFStream } from "pdf-lib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { printTestPage } from "../../src/report/print/printTestPage.ts";
import type { Printer } from "../../src/report/print.ts";
import { openPrinter } from "../../src/report/print.ts";
import { isAlive, until } from "./children.ts";
import { contents, METADATA, printerOrFail } from "./printer.ts";

const face = join(
  dirname(createRequire(import.meta.url).resolve("@fontsource/source-sans-3/package.json")),
  "files",
);
const faceData = (weight: number) =>
  readFileSync(join(face, `source-sans-3-latin-${weight}-normal.woff2`)).toString("base64");
// A bold face of its own: one made up by the browser is embedded as drawings, not as a font.
const faces = [400, 700].map(
  (weight) =>
    `@font-face{font-family:Own;font-weight:${weight};src:url(data:font/woff2;base64,${faceData(weight)}) format("woff2")}`,
);

function report(sheet: string): string {
  const rows = Array.from(
    { length: 60 },
    (_unused, at) => `<tr><th scope="row">p${at}</th><td>0.00${at} µm</td></tr>`,
  );
  return `<!doctype html><html lang="de"><head><meta charset="utf-8"><title>from the page</title><style>
${faces.join("\n")}
@page{size:${sheet};margin:20mm;@bottom-right{content:"Sheet " counter(page) " of " counter(pages);font:9pt Own}}
body{font:11pt Own;text-rendering:geometricPrecision}</style></head><body>
<h1>Column seat</h1><h2>Readings</h2><table><thead><tr><th scope="col">Point</th><th scope="col">Height</th></tr></thead>
<tbody>${rows.join("")}</tbody></table><h2>Map</h2>
<svg role="img" aria-label="heights of the face" width="100" height="50"><rect width="90" height="40"/></svg>
</body></html>`;
}

function everyDict(pdf: PDFDocument): PDFDict[] {
  return pdf.context
    .enumerateIndirectObjects()
    .flatMap(([, object]) => (object instanceof PDFDict ? [object] : []));
}

let printer: Printer;
beforeAll(async () => {
  printer = await printerOrFail();
});
afterAll(async () => {
  await printer?.close();
});

describe("a printed report", () => {
  it.each([
    ["A4", "a4", (210 / 25.4) * 72, (297 / 25.4) * 72],
    ["letter", "letter", 612, 792],
    // The page's own rule names no size: the sheet asked for counts.
    ["auto", "letter", 612, 792],
    ["auto", "a4", (210 / 25.4) * 72, (297 / 25.4) * 72],
  ] as const)(
    "with @page size %s on %s has exact sheets, and counts them",
    async (size, sheet, width, height) => {
      const found = await contents(await printer.print(report(size), { page: sheet, metadata: METADATA }));
      expect(found.pages.length).toBeGreaterThan(1);
      for (const one of found.sizes) {
        expect(one.width).toBeCloseTo(width, 3);
        expect(one.height).toBeCloseTo(height, 3);
      }
      found.pages.forEach((text, at) => {
        expect(text).toContain(`Sheet ${at + 1} of ${found.pages.length}`);
      });
    },
  );

  it("can be searched, has tags, headings, language, and its own metadata", async () => {
    const bytes = await printer.print(report("A4"), { page: "a4", metadata: METADATA });
    const found = await contents(bytes);
    expect(found.pages[0]).toContain("Column seat");
    expect(found.pages.join("\n")).toContain("0.0059 µm");
    expect(found).toMatchObject({ tagged: true, language: "de", title: METADATA.title });
    expect(found.outline).toEqual([
      { title: "Column seat", depth: 0 },
      { title: "Readings", depth: 1 },
      { title: "Map", depth: 1 },
    ]);
    const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
    expect([pdf.getAuthor(), pdf.getSubject(), pdf.getCreator()]).toEqual(["Shop", "Setup report", "Plinth"]);
    const tags = everyDict(pdf).map((dict) => String(dict.get(PDFName.of("S"))));
    for (const tag of ["/H1", "/H2", "/Table", "/TH", "/TD", "/Figure"]) expect(tags).toContain(tag);
    const figure = everyDict(pdf).find((dict) => dict.get(PDFName.of("S")) === PDFName.of("Figure"));
    expect(String(figure?.get(PDFName.of("Alt")))).toContain("heights of the face");
  });

  it("embeds every font it uses", async () => {
    const bytes = await printer.print(report("A4"), { page: "a4", metadata: METADATA });
    const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
    const descriptors = everyDict(pdf).filter(
      (dict) => dict.get(PDFName.of("Type")) === PDFName.of("FontDescriptor"),
    );
    expect(descriptors.length).toBeGreaterThan(0);
    expect(descriptors.some((dict) => /SourceSans/.test(String(dict.get(PDFName.of("FontName")))))).toBe(
      true,
    );
    for (const dict of descriptors) {
      const file = ["FontFile", "FontFile2", "FontFile3"].map((key) => dict.lookup(PDFName.of(key)));
      expect(
        file.some((one) => one instanceof PDFStream),
        String(dict),
      ).toBe(true);
    }
  });

  it("is the same bytes from another browser, and after other pages", async () => {
    const request = {
      page: "a4" as const,
      metadata: METADATA,
      attachments: [
        { name: "a.csv", bytes: Buffer.from("1,2"), mime: "text/csv", relationship: "Source" as const },
      ],
    };
    await printer.print("<h1>before</h1><table><th id=a>x</table>", { page: "letter", metadata: METADATA });
    const one = await printer.print(report("A4"), request);
    const other = await printerOrFail();
    try {
      expect(Buffer.from(await other.print(report("A4"), request)).equals(one)).toBe(true);
    } finally {
      await other.close();
    }
    expect(Buffer.from(await printer.print(report("A4"), request)).equals(one)).toBe(true);
    expect((await contents(one)).attachments.map(({ bytes }) => Buffer.from(bytes).toString())).toEqual([
      "1,2",
    ]);
    const pdf = await PDFDocument.load(one, { updateMetadata: false });
    const root = pdf.catalog.lookup(PDFName.of("StructTreeRoot"), PDFDict);
    const names = root.lookup(PDFName.of("IDTree"), PDFDict).lookup(PDFName.of("Names"), PDFArray);
    expect(names.size()).toBeGreaterThan(60);
  });

  it("keeps nothing of the page before, also over more pages than memory is cleared after", async () => {
    for (let at = 0; at < 23; at += 1) {
      const found = await contents(await printer.print(`<p>page ${at}.`, { page: "a4", metadata: METADATA }));
      expect(found.pages).toEqual([`page ${at}.`]);
    }
  });

  it("is the same bytes whether its styles stand there from the page before or not", async () => {
    const rules = '<meta charset="utf-8"><meta name="referrer" content="no-referrer">';
    const page = (title: string, own: string, more: string, attributes = "") =>
      `<!doctype html><html lang="${title}"><head>${rules}<title>${title}</title><style>${faces.join("\n")}
body{font:11pt Own}</style>${own}</head><body class="${title}" ${attributes}><h1>${title}</h1>${more}</body></html>`;
    const dot =
      "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
    const pages = [
      page(
        "en",
        '<style>@page{@bottom-left{content:"first"}}</style>',
        "<p>1 µ \u2028 ± – \u{1d6fc} \\u0041 $1</p>",
      ),
      page("de", "<style>@page{size:A5}.de{color:#00f}h1{font-size:40pt}</style>", "<p><b>bold 2</b></p>"),
      page(
        "fr",
        "",
        `<style>p{letter-spacing:3pt}</style><p>3</p><img src="${dot}" alt="a dot">`,
        "style=margin:2in",
      ),
      page(
        "en",
        "<base href='http://127.0.0.1:9/'><style>h1{color:red}</style>",
        "<p>4</p><table><th id=a>x</table>",
      ),
      "<p>5, without rules",
      page("it", "", "<p>6, with another first style</p>").replace("11pt", "14pt"),
      page("es", "", "<p>7, with a style that has a sign of tags</p>").replace("body{", "/* < */body{"),
      page("pt", "", "<style>p{color:red}</style><p>8, with a style in its body only</p>").replace(
        /<style>.*?<\/style>/s,
        "",
      ),
    ];
    const alone: Uint8Array[] = [];
    for (const html of pages) {
      // What has no rules is always set anew, and so is what follows it.
      await printer.print("<p>between", { page: "a4", metadata: METADATA });
      alone.push(await printer.print(html, { page: "a4", metadata: METADATA }));
    }
    expect(new Set(alone.map((bytes) => Buffer.from(bytes).toString("base64"))).size).toBe(pages.length);
    for (const order of [
      [0, 1, 2, 3, 0, 3, 1],
      [3, 2, 1, 4, 2, 0],
      [0, 5, 5, 1, 6, 6, 2, 7, 7, 3, 5, 0],
    ])
      for (const at of order) {
        const again = await printer.print(pages[at] ?? "", { page: "a4", metadata: METADATA });
        expect(Buffer.from(again).equals(alone[at] ?? new Uint8Array()), `page ${at}`).toBe(true);
      }
  });

  it("comes out in order when several are asked for at once", async () => {
    const pages = Array.from({ length: 6 }, (_unused, at) => `<p>number ${at}.`);
    const all = await Promise.all(
      pages.map((html) => printer.print(html, { page: "a4", metadata: METADATA })),
    );
    const texts = await Promise.all(all.map(async (bytes) => (await contents(bytes)).pages.join()));
    expect(texts).toEqual(pages.map((html) => html.slice(3)));
  });
});

describe("the printer", () => {
  it("says which browser prints, whether its sandbox is on, and why not", () => {
    expect(printer.browser.version).toMatch(/^\d+\.\d+/);
    expect(printer.browser.why).not.toBe("");
    if (process.getuid?.() === 0) expect(printer.browser.sandbox).toBe(false);
    if (!printer.browser.sandbox) expect(printer.browser.why).toContain("The sandbox is off, because");
  });

  it("prints a test page whose text is there", async () => {
    expect(await printTestPage(printer)).toMatchObject({ ok: true });
  });

  it("starts a browser again that was killed, between pages and within one", async () => {
    const own = await printerOrFail();
    try {
      for (const wait of [200, 0]) {
        const before = own.processId;
        const killed = wait > 0 ? undefined : own.print(report("A4"), { page: "a4", metadata: METADATA });
        process.kill(before, "SIGKILL");
        if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
        const page = await (killed ?? own.print(report("A4"), { page: "a4", metadata: METADATA }));
        expect((await contents(page)).pages[0]).toContain("Column seat");
        expect(own.processId).not.toBe(before);
      }
    } finally {
      await own.close();
    }
    expect(await until(() => !isAlive(own.processId), 2_000)).toBe(true);
    await expect(own.print("x", { page: "a4", metadata: METADATA })).rejects.toThrow("the printer is closed");
    await own.close();
  });

  it("starts one browser again for all pages that one failed", async () => {
    const profiles = (): number =>
      readdirSync(tmpdir()).filter((name) => name.startsWith(`plinth-browser-${process.pid}-`)).length;
    const own = await printerOrFail();
    try {
      const before = own.processId;
      const running = profiles();
      const pages = ["one", "two", "three"].map((text) =>
        own.print(`<p>${text}`, { page: "a4", metadata: METADATA }),
      );
      process.kill(before, "SIGKILL");
      const texts = await Promise.all(pages.map(async (bytes) => (await contents(await bytes)).pages.join()));
      expect(texts).toEqual(["one", "two", "three"]);
      const after = own.processId;
      expect(after).not.toBe(before);
      expect(profiles()).toBe(running);
    } finally {
      await own.close();
    }
  });

  it("gives up on a page that takes too long, and prints the next one", async () => {
    const own = await printerOrFail({ printTimeoutMs: 1_500 });
    try {
      const endless = `<style>${Array.from({ length: 300 }, (_unused, at) => `p:has(+p:nth-child(${at + 1}n))`).join(",")}{color:red}</style>${"<p>x".repeat(60_000)}`;
      await expect(own.print(endless, { page: "a4", metadata: METADATA })).rejects.toThrow();
      const found = await contents(await own.print("<p>next", { page: "a4", metadata: METADATA }));
      expect(found.pages).toEqual(["next"]);
    } finally {
      await own.close();
    }
  });

  it("is a sentence when there is no browser or it does not start", async () => {
    const missing = await openPrinter({ configured: join(tmpdir(), "no-such-browser") });
    expect(missing).toEqual({ available: false, sentence: expect.stringContaining("is not there") });
    const folder = mkdtempSync(join(tmpdir(), "plinth-false-"));
    try {
      const broken = join(folder, "broken");
      writeFileSync(
        broken,
        "#!/bin/sh\necho 'error while loading shared libraries: libx.so' >&2\nexit 127\n",
        { mode: 0o755 },
      );
      expect(await openPrinter({ configured: broken })).toEqual({
        available: false,
        sentence: `The browser ${broken} did not start: error while loading shared libraries: libx.so.`,
      });
      const plain = join(folder, "plain");
      writeFileSync(plain, "", { mode: 0o644 });
      expect(await openPrinter({ configured: plain })).toEqual({
        available: false,
        sentence: expect.stringMatching(/did not start: .*EACCES/),
      });
      const silent = join(folder, "silent");
      writeFileSync(silent, "#!/bin/sh\nexec sleep 60\n", { mode: 0o755 });
      expect(await openPrinter({ configured: silent, startTimeoutMs: 300 })).toEqual({
        available: false,
        sentence: expect.stringContaining("did not answer in 0.3 s"),
      });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it("takes an installed browser when the bundled one does not start, and says so", async () => {
    const folder = mkdtempSync(join(tmpdir(), "plinth-bundled-"));
    try {
      mkdirSync(join(folder, "bin"));
      writeFileSync(
        join(folder, "bin/chromium.br"),
        brotliCompressSync("#!/bin/sh\necho too old >&2\nexit 1\n"),
      );
      for (const name of ["al2023", "fonts"]) {
        writeFileSync(join(folder, `bin/${name}.tar.br`), brotliCompressSync(Buffer.alloc(1024)));
      }
      const { executable, folders } = printer.browser;
      const installed = join(folder, "installed");
      const libraries = folders ? `LD_LIBRARY_PATH='${folders.libraries}' ` : "";
      writeFileSync(installed, `#!/bin/sh\n${libraries}exec '${executable}' "$@"\n`, { mode: 0o755 });
      const search = {
        env: {},
        bundled: { folder, version: "0" },
        cacheDir: join(folder, "cache"),
        platform: "linux",
        arch: "x64",
      };
      const own = await printerOrFail({ ...search, places: [installed] });
      expect(own.browser).toMatchObject({ executable: installed, source: "installed" });
      expect(own.browser.why).toMatch(/chromium did not start: too old\. It is installed on this machine\./);
      await own.close();
      expect(await openPrinter({ ...search, places: [] })).toMatchObject({
        available: false,
        sentence: expect.stringMatching(/did not start: too old\. No browser .* was found\. Install/),
      });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it("goes without the sandbox only where the browser says that it cannot have it", async () => {
    const folder = mkdtempSync(join(tmpdir(), "plinth-sandbox-"));
    const program = join(folder, "browser");
    const { executable, folders } = printer.browser;
    const libraries = folders ? `LD_LIBRARY_PATH='${folders.libraries}' ` : "";
    const real = `${libraries}exec '${executable}' "$@"`;
    const script = (refusal: string) =>
      `#!/bin/sh\ncase " $* " in *" --no-sandbox "*) ${real};; esac\necho '${refusal}' >&2\nexit 1\n`;
    try {
      writeFileSync(program, script("[1:FATAL:host.cc:128] No usable sandbox! Try another."), {
        mode: 0o755,
      });
      const own = await printerOrFail({ configured: program, userId: 1000 });
      expect(own.browser).toMatchObject({ sandbox: false, source: "settings" });
      expect(own.browser.why).toContain("it could not be had here: No usable sandbox.");
      await own.close();
      writeFileSync(program, script("out of memory"), { mode: 0o755 });
      expect(await openPrinter({ configured: program, userId: 1000 })).toMatchObject({
        available: false,
        sentence: expect.stringContaining("did not start: out of memory"),
      });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
