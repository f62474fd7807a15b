// Accepts what the road gives today as the golden records: `npm run accept`. The diff is read before it is committed.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const here = fileURLToPath(new URL(".", import.meta.url));
const samples = fileURLToPath(new URL("../../sample-logs/", import.meta.url));
// Beside the sources, so that packages which stay outside the bundle are found.
const folder = mkdtempSync(join(here, ".accept-"));
try {
  const outfile = join(folder, "road.mjs");
  await build({
    entryPoints: [join(here, "road.ts")],
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    packages: "external",
    logLevel: "warning",
  });
  const { cases, kept, recordOf } = await import(pathToFileURL(outfile).href);
  mkdirSync(join(here, "records"), { recursive: true });
  for (const name of cases(samples)) {
    writeFileSync(join(here, "records", `${name}.json`), kept(await recordOf(join(samples, name))));
    console.log(`tests/golden/records/${name}.json`);
  }
} finally {
  rmSync(folder, { recursive: true });
}
