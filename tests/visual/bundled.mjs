// Runs a file of this folder with its imports: bundled beside it, so that paths from here and packages are found.
import { rmSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const here = fileURLToPath(new URL(".", import.meta.url));

/** What the file exports, handed to `use`. */
export async function bundled(file, use) {
  const outfile = `${here}.accept-${process.pid}.mjs`;
  try {
    await build({
      entryPoints: [here + file],
      outfile,
      bundle: true,
      format: "esm",
      platform: "node",
      packages: "external",
      logLevel: "warning",
    });
    return await use(await import(pathToFileURL(outfile).href));
  } finally {
    rmSync(outfile, { force: true });
  }
}
