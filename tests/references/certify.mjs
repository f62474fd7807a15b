// Prints how many digits of the certified values are reached, data set by data set: `npm run certify`.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const folder = mkdtempSync(join(tmpdir(), "plinth-certify-"));
try {
  const outfile = join(folder, "certifyTable.mjs");
  const entry = fileURLToPath(new URL("certifyTable.ts", import.meta.url));
  await build({
    entryPoints: [entry],
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    logLevel: "warning",
  });
  const { certifyTable } = await import(pathToFileURL(outfile).href);
  const rows = certifyTable();
  console.log(
    "Digits reached against the certified values of the NIST Statistical Reference Datasets (15 = all a double shows)",
  );
  for (const { dataset, what, digits, needed } of rows) {
    const word = digits >= needed ? "reached" : "MISSED";
    console.log(
      `${dataset.padEnd(12)} ${what.padEnd(34)} ${digits.toFixed(1).padStart(5)}  needed ${String(needed).padStart(2)}  ${word}`,
    );
  }
  const missed = rows.filter(({ digits, needed }) => digits < needed).length;
  console.log(`${rows.length - missed} reached, ${missed} missed`);
  process.exitCode = missed === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true });
}
