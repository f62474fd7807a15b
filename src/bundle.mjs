// Bundles the command line and the library. The command line is two files, each beside the code that V8 made of it, so that
// a command starts without reading and compiling dozens of files: one with the commands that only answer, one with all.
// Native packages and the browser stay outside.
import { execFileSync } from "node:child_process";
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));
/**
 * Packages that also bring their source as ES modules: what nothing uses of them is left out, and what is used starts without
 * a wrapper for each of their files.
 */
const MODULES = {
  yaml: "yaml/browser/dist/index.js",
  "ml-matrix": "ml-matrix/src/index.js",
  "simple-statistics": "simple-statistics/index.js",
};
const asModules = {
  name: "as-modules",
  setup({ onResolve }) {
    onResolve({ filter: new RegExp(`^(${Object.keys(MODULES).join("|")})$`) }, ({ path }) => ({
      path: join(root, "node_modules", MODULES[path]),
      sideEffects: false,
    }));
    // Each of its files is one function; the package does not say so.
    onResolve({ filter: /^\.\/src\// }, ({ path, importer }) =>
      importer.endsWith(MODULES["simple-statistics"])
        ? { path: join(dirname(importer), path), sideEffects: false }
        : undefined,
    );
  },
};

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
    plugins: [asModules],
    define: { PLINTH_VERSION: JSON.stringify(version) },
  };
  await build({
    ...common,
    entryPoints: { demo: "src/cli/demo.ts", index: "src/index.ts" },
    outdir,
    splitting: true,
    format: "esm",
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
  const cli = join(outdir, "cli");
  const program = join(cli, "plinth.js");
  await build({ ...common, entryPoints: ["src/cli/start.ts"], outfile: program, format: "cjs" });
  writeFileSync(join(cli, "package.json"), '{ "type": "commonjs" }\n');
  chmodSync(program, 0o755);

  const sample = join(root, "sample-logs/1-column");
  const plan = ["--plan", join(sample, "plan.yaml")];
  await bundleCommands(join(cli, "answers.cjs"), { ...common, entryPoints: ["src/cli/answers.ts"] });
  keepCode(join(cli, "answers.cjs"), ["check", sample, ...plan]);
  await bundleCommands(join(cli, "plinth.cjs"), { ...common, entryPoints: ["src/cli/plinth.ts"] });
  const out = mkdtempSync(join(tmpdir(), "plinth-kept-"));
  keepCode(join(cli, "plinth.cjs"), ["report", sample, ...plan, "--format", "json,html", "--out", out]);
  rmSync(out, { recursive: true });
}

/** One file that `start.ts` calls as a function. */
async function bundleCommands(file, options) {
  const { outputFiles } = await build({
    ...options,
    write: false,
    format: "cjs",
    define: { ...options.define, "import.meta.url": "__file.url" },
    charset: "ascii",
    banner: {
      js: '(function (require, __filename, __loadPackage) { const module = { exports: {} }; const __file = { get url() { return require("node:url").pathToFileURL(__filename).href; } };',
    },
    footer: { js: "})" },
  });
  // Code that was kept cannot import by itself; who loads it does.
  const text = outputFiles[0].text.replaceAll("await import(", "await __loadPackage(");
  if (/\bimport\(/.test(text)) throw new Error("an import in the bundle is not awaited");
  writeFileSync(file, text);
}

/** Runs a command once, so that the code it needs is made and kept. */
function keepCode(file, command) {
  execFileSync(process.execPath, [join(root, "src/keepCode.mjs"), file, ...command], {
    stdio: ["ignore", "ignore", "inherit"],
  });
}
