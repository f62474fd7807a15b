// Writes every picture and every kind of page below reports/gallery: `npm run gallery`.
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { bundled } from "../bundled.mjs";

const folder = fileURLToPath(new URL("../../reports/gallery/", import.meta.url));
const files = await bundled(new URL("gallery.ts", import.meta.url), ({ galleryFiles }) => galleryFiles());
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
for (const [name, text] of Object.entries(files)) writeFileSync(folder + name, text);
console.log(`reports/gallery/index.html: ${Object.keys(files).length - 1} pages`);
