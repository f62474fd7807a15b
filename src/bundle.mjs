// Bundles the command line and the library. The command line is one file beside the code that V8 made of it, so that a
// command starts without reading and compiling dozens of files. Native packages and the browser stay outside.
import { execFileSync } from "node:child_process";
import { chmodSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));

/** Writes the program and the library to `outdir`, a folder beside templates, samples and packages. */
export async function bundle({ outdir, version }) {
  const common = {
    absWorkingDir: root,
    bundle: true,
    platform: "node",
    target: "node20",
    external: ["puppeteer-core", "pdfjs-dist", "@sparticuz/chromium", "libsql", "better-sqlite3"],
    minify: true,
    legalComments: "none",
    logLevel: "warning",
  };
  const defined = { PLINTH_VERSION: JSON.stringify(version) };
  await build({
    ...common,
    entryPoints: { "cli/plinth": "src/cli/start.ts", "cli/demo": "src/cli/demo.ts", index: "src/index.ts" },
    outdir,
    splitting: true,
    format: "esm",
    define: defined,
    // Bundled CommonJS packages ask for what node gives to a CommonJS file.
    banner: {
      js: [
        'import { createRequire as __createRequire } from "node:module";',
        'import { fileURLToPath as __fileURLToPath } from "node:url";',
        "const require = __createRequire(import.meta.url);",
        "const __filename = __fileURLToPath(import.meta.url);",
      ].join(" "),
    },
  });
  const { outputFiles } = await build({
    ...common,
    entryPoints: ["src/cli/plinth.ts"],
    write: false,
    format: "cjs",
    define: { ...defined, "import.meta.url": "__fileUrl" },
    charset: "ascii",
    banner: {
      js: '(function (require, __filename, __loadPackage) { const module = { exports: {} }; const __fileUrl = require("node:url").pathToFileURL(__filename).href;',
    },
    footer: { js: "})" },
  });
  // Code that was kept cannot import by itself; who loads it does.
  const text = outputFiles[0].text.replaceAll("await import(", "await __loadPackage(");
  if (/\bimport\(/.test(text)) throw new Error("an import in the bundle is not awaited");
  writeFileSync(join(outdir, "cli/plinth.cjs"), text);
  const program = join(outdir, "cli/plinth.js");
  chmodSync(program, 0o755);
  execFileSync(process.execPath, [join(root, "src/keepCode.mjs"), join(outdir, "cli/plinth.cjs")], {
    stdio: ["ignore", "ignore", "inherit"],
  });
}
