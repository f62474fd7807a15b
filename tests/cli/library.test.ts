// The example of DEVELOPERS.md runs and type-checks against the package as it would be installed.
import { execFile } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { promisify } from "node:util";
import { afterAll, describe, expect, inject, it } from "vitest";
import { ROOT, SAMPLES } from "./plinth.ts";

const home = mkdtempSync(join(tmpdir(), "plinth-library-"));
afterAll(() => rmSync(home, { recursive: true }));
mkdirSync(join(home, "node_modules"));
symlinkSync(inject("built"), join(home, "node_modules", "plinth"));

const run = promisify(execFile);
const example = (): string => {
  const page = readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8");
  const [, code = ""] = /## As a library[\s\S]*?```js\n([\s\S]*?)```/.exec(page) ?? [];
  expect(code).toContain('from "plinth"');
  return code;
};
const tsc = join(dirname(createRequire(import.meta.url).resolve("typescript/package.json")), "bin/tsc");
/** What the compiler says of a settings file, as text; empty when all is well. */
const compile = (settings: string): Promise<string> =>
  run(process.execPath, [tsc, "-p", settings]).then(
    () => "",
    (error: { stdout: string }) => error.stdout,
  );

describe("the library example", () => {
  it("prints verdicts and values", async () => {
    writeFileSync(join(home, "example.mjs"), example());
    const { stdout } = await run(process.execPath, [
      join(home, "example.mjs"),
      join(SAMPLES, "3-first-side"),
    ]);
    expect(stdout).toMatch(
      /^face-flatness pass 0\.00\d\d\nwall-roundness fail 0\.0\d{3}\nwall-squareness pass 0\.\d{4}\nwall-diameter pass 154\.0\d{3}\n$/,
    );
  });
  it("has types that a strict compiler takes, and that catch a mistake", async () => {
    const settings = (name: string, content: object): string => {
      writeFileSync(join(home, name), JSON.stringify(content));
      return join(home, name);
    };
    const types = { types: ["node"], typeRoots: [join(ROOT, "node_modules/@types")] };
    const emitted = await compile(
      settings("emit.json", {
        extends: join(ROOT, "tsconfig.json"),
        compilerOptions: {
          ...types,
          rootDir: join(ROOT, "src"),
          outDir: join(inject("built"), "dist/types"),
        },
        files: [join(ROOT, "src/index.ts")],
        include: [],
      }),
    );
    expect(emitted).toBe("");
    // A type for the two untyped places of the example; everything else must come from the package.
    const typed = example()
      .replace("(content) =>", "(content: string | Uint8Array) =>")
      .replace("process.argv[2];", 'process.argv[2] ?? "";')
      .replace("reports[0].characteristics", "reports[0]?.characteristics ?? []")
      .replace("value.toFixed(4)", "value?.toFixed(4)");
    writeFileSync(join(home, "right.mts"), typed);
    writeFileSync(join(home, "wrong.mts"), typed.replace('issued: "2026-11-25T07:00:00Z"', "issued: 2026"));
    const strict = (file: string) =>
      compile(
        settings(`${file}.json`, {
          compilerOptions: {
            ...types,
            strict: true,
            noUncheckedIndexedAccess: true,
            module: "nodenext",
            target: "es2023",
            noEmit: true,
          },
          files: [join(home, file)],
        }),
      );
    expect(await strict("right.mts")).toBe("");
    expect(await strict("wrong.mts")).toMatch(/wrong\.mts\(\d+,\d+\): error TS2322: Type 'number'/);
  });
});
