import { execFileSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { bundle } from "./bundle.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
const { version } = JSON.parse(readFileSync(`${root}package.json`, "utf8"));

rmSync(`${root}dist`, { recursive: true, force: true });
await bundle({ outdir: `${root}dist`, version });
const tsc = createRequire(import.meta.url)
  .resolve("typescript/package.json")
  .replace("package.json", "bin/tsc");
execFileSync(process.execPath, [tsc, "-p", `${root}tsconfig.json`], { stdio: "inherit" });
