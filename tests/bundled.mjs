// Runs a source file with its imports: bundled beside it, so that paths from there and packages are found.
import { rmSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

/** What the file at a URL exports, handed to `use`. */
export async function bundled(file, use) {
  const outfile = fileURLToPath(new URL(`.accept-${process.pid}.mjs`, file));
  try {
    await build({
      entryPoints: [fileURLToPath(file)],
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
