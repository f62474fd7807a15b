// Writes the logs of sample-logs anew: `npm run samples`. The diff is read before it is committed.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const samples = fileURLToPath(new URL("../../sample-logs", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "plinth-samples-"));
try {
  const outfile = join(folder, "sampleLogs.mjs");
  await build({
    entryPoints: [fileURLToPath(new URL("sampleLogs.ts", import.meta.url))],
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    logLevel: "warning",
  });
  const { sampleLogs } = await import(pathToFileURL(outfile).href);
  for (const [name, text] of Object.entries(sampleLogs())) {
    const path = join(samples, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
    console.log(path);
  }
} finally {
  rmSync(folder, { recursive: true });
}
