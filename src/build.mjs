// Bundles the command line and the library, so that starting a command loads one small file and
// only what that command needs. Native packages and the browser stay outside the bundle.
import { execFileSync } from "node:child_process";
import { chmodSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));
const { version } = JSON.parse(readFileSync(`${root}package.json`, "utf8"));

rmSync(`${root}dist`, { recursive: true, force: true });
await build({
  absWorkingDir: root,
  entryPoints: ["src/cli/plinth.ts", "src/cli/demo.ts", "src/index.ts"],
  outdir: "dist",
  outbase: "src",
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  external: ["puppeteer-core", "pdfjs-dist", "@sparticuz/chromium", "libsql", "better-sqlite3"],
  define: { PLINTH_VERSION: JSON.stringify(version) },
  // Bundled CommonJS packages ask for what node gives to a CommonJS file.
  banner: {
    js: [
      'import { createRequire as __createRequire } from "node:module";',
      'import { fileURLToPath as __fileURLToPath } from "node:url";',
      "const require = __createRequire(import.meta.url);",
      "const __filename = __fileURLToPath(import.meta.url);",
    ].join(" "),
  },
  minify: true,
  legalComments: "none",
  logLevel: "warning",
});
chmodSync(`${root}dist/cli/plinth.js`, 0o755);
const tsc = createRequire(import.meta.url)
  .resolve("typescript/package.json")
  .replace("package.json", "bin/tsc");
execFileSync(process.execPath, [tsc, "-p", `${root}tsconfig.json`], { stdio: "inherit" });
