// `npm run fuzz [COUNT] [FIRST]`: damaged logs by the hundred thousand; a seed that fails is printed and fails again alone.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const [count = 200_000, first = 1] = process.argv.slice(2).map(Number);
const folder = mkdtempSync(join(tmpdir(), "plinth-fuzz-"));
try {
  const outfile = join(folder, "fuzzCases.mjs");
  await build({
    entryPoints: [fileURLToPath(new URL("fuzzCases.ts", import.meta.url))],
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    logLevel: "warning",
    banner: {
      js: 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);',
    },
  });
  const { damagedLog, trespass } = await import(pathToFileURL(outfile).href);
  let [failed, slowest] = [0, 0];
  for (let seed = first; seed < first + count; seed++) {
    const begin = performance.now();
    let wrong;
    try {
      wrong = trespass(damagedLog(seed));
    } catch (error) {
      wrong = `it throws ${error}`;
    }
    slowest = Math.max(slowest, performance.now() - begin);
    if (wrong !== "") {
      failed++;
      console.log(`log ${seed}: ${wrong}`);
    }
  }
  console.log(`${count} damaged logs, ${failed} failed, the slowest took ${slowest.toFixed(0)} ms`);
  process.exitCode = failed === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true });
}
