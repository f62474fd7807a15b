// The example of DEVELOPERS.md runs from the package as it would be installed.
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import { expect, it } from "vitest";
import { ROOT, SAMPLES } from "./plinth.ts";

it("the library example prints verdicts and values", async () => {
  const [, example = ""] =
    /## As a library[\s\S]*?```js\n([\s\S]*?)```/.exec(readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8")) ??
    [];
  expect(example).toContain("makeReports");
  const home = mkdtempSync(join(tmpdir(), "plinth-library-"));
  try {
    const installed = join(home, "node_modules", "plinth");
    mkdirSync(join(installed, "dist"), { recursive: true });
    symlinkSync(join(ROOT, "package.json"), join(installed, "package.json"));
    symlinkSync(join(ROOT, "node_modules"), join(installed, "node_modules"));
    await build({
      absWorkingDir: ROOT,
      entryPoints: ["src/index.ts"],
      outfile: join(installed, "dist/index.js"),
      bundle: true,
      format: "esm",
      platform: "node",
      packages: "external",
      logLevel: "error",
    });
    writeFileSync(join(home, "example.mjs"), example);
    const out = execFileSync(
      process.execPath,
      ["--preserve-symlinks", join(home, "example.mjs"), join(SAMPLES, "3-first-side")],
      { encoding: "utf8" },
    );
    expect(out).toMatch(
      /^face-flatness pass 0\.00\d\d\nwall-roundness fail 0\.0\d{3}\nwall-squareness pass 0\.\d{4}\nwall-diameter pass 154\.0\d{3}\n$/,
    );
  } finally {
    rmSync(home, { recursive: true });
  }
});
