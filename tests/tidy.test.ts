// The rules of the house, executed: where things live, what may import what, how long they may be.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join, posix, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const ROOT = fileURLToPath(new URL("..", import.meta.url));

/** Which rooms a room may import; `*` in the list means all rooms. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  math: [],
  model: [],
  ingest: ["model"],
  analysis: ["model", "math"],
  report: ["model"],
  records: ["model", "ingest", "analysis", "report"],
  runs: ["records", "model"],
  cli: ["math", "model", "ingest", "analysis", "report", "records", "runs"],
};
/** The place where each outside package enters; triangles are needed by solvers and by maps. */
const ENTERS: Readonly<Record<string, string>> = {
  papaparse: "ingest",
  "ml-matrix": "math",
  "simple-statistics": "math",
  "d3-delaunay": "math report",
  yaml: "model",
  valibot: "model",
  "@valibot/to-json-schema": "model",
  handlebars: "report",
  "d3-scale": "report",
  "d3-shape": "report",
  "d3-contour": "report",
  puppeteer: "report",
  "puppeteer-core": "report",
  "@sparticuz/chromium": "report",
  "pdf-lib": "report",
  "pdfjs-dist": "report",
  kysely: "records",
  libsql: "records",
  "write-file-atomic": "records",
  chokidar: "runs",
  commander: "cli",
  "cli-progress": "cli",
};
/** Only pure computations of node may be used in the pure rooms. */
const PURE_NODE = ["node:crypto"];
const IMPURE_WORDS =
  /\b(?:Math\.random|Date\.now|new Date\(\)|process\.|performance\.now|fetch\(|setTimeout|setInterval|crypto\.random\w*|randomUUID|randomBytes)/;

const files = (folder: string, ending: RegExp): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && ending.test(entry.name))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))
    .sort();
const text = (file: string): string => readFileSync(join(ROOT, file), "utf8");
const roomOf = (file: string): string => file.split("/")[1] ?? "";
const isPrinting = (file: string): boolean =>
  file === "src/report/print.ts" || file.startsWith("src/report/print/");
const isPure = (file: string): boolean =>
  ["model", "math", "ingest", "analysis", "report"].includes(roomOf(file)) && !isPrinting(file);

/** Code without comments and string contents, so that words in sentences do not count. */
const codeOf = (source: string): string =>
  source.replace(/\/\*[\s\S]*?\*\//g, "").replace(/(^|[^:])\/\/.*$/gm, "$1");
const importsOf = (file: string): string[] =>
  [
    ...codeOf(text(file)).matchAll(/(?:from\s+|import\s*\(\s*|import\s+|require\s*\(\s*)["']([^"']+)["']/g),
  ].map((match) => match[1] ?? "");
const packageOf = (specifier: string): string =>
  specifier
    .split("/")
    .slice(0, specifier.startsWith("@") ? 2 : 1)
    .join("/");

const SOURCES = files("src", /\.ts$/);
const ROOM_SOURCES = SOURCES.filter((file) => file.split("/").length > 2);

describe("rooms", () => {
  it("has only the rooms that the design names", () => {
    const rooms = readdirSync(join(ROOT, "src"), { withFileTypes: true }).filter((entry) =>
      entry.isDirectory(),
    );
    expect(rooms.map((entry) => entry.name).filter((name) => !(name in MAY_IMPORT))).toEqual([]);
  });

  it("imports point down only", () => {
    const wrong = ROOM_SOURCES.flatMap((file) =>
      importsOf(file)
        .filter((specifier) => specifier.startsWith("."))
        .map((specifier) => posix.normalize(posix.join(dirname(file), specifier)))
        .filter(
          (target) => roomOf(target) !== roomOf(file) && !MAY_IMPORT[roomOf(file)]?.includes(roomOf(target)),
        )
        .map(
          (target) =>
            `${file} imports ${target}: ${roomOf(file)} may import ${MAY_IMPORT[roomOf(file)]?.join(", ") || "nothing of ours"}`,
        ),
    );
    expect(wrong).toEqual([]);
  });

  it("lets each package in at one place", () => {
    const wrong = SOURCES.flatMap((file) =>
      importsOf(file)
        .filter((specifier) => !specifier.startsWith(".") && !specifier.startsWith("node:"))
        .map(packageOf)
        .filter((name) => !ENTERS[name]?.split(" ").includes(roomOf(file)))
        .map(
          (name) =>
            `${file} imports ${name}: it enters in ${ENTERS[name] ?? "no room yet; name one here and give the reason in DEVELOPERS.md"}`,
        ),
    );
    expect(wrong).toEqual([]);
  });

  it("keeps the stages pure: no file, clock, network or chance", () => {
    const wrong = ROOM_SOURCES.filter(isPure).flatMap((file) => [
      ...importsOf(file)
        .filter((specifier) => specifier.startsWith("node:") && !PURE_NODE.includes(specifier))
        .map((specifier) => `${file} imports ${specifier}: hand it in as an argument`),
      ...[...codeOf(text(file)).matchAll(new RegExp(IMPURE_WORDS, "g"))].map(
        (match) => `${file} uses ${match[0]}: hand it in as an argument`,
      ),
    ]);
    expect(wrong).toEqual([]);
  });

  it("keeps the browser in print and the console in cli", () => {
    const browser = SOURCES.filter(
      (file) => importsOf(file).some((name) => /^puppeteer/.test(name)) && !isPrinting(file),
    );
    const console = SOURCES.filter(
      (file) => roomOf(file) !== "cli" && /\bconsole\.|process\.std(?:out|err)/.test(codeOf(text(file))),
    );
    expect({ browser, console }).toEqual({ browser: [], console: [] });
  });
});

describe("shelves", () => {
  const shelves = SOURCES.filter((file) => basename(file) === "contract.ts").map((file) => dirname(file));

  it("has a contract and a list on each shelf", () => {
    expect(shelves.length).toBeGreaterThanOrEqual(7);
    expect(shelves.filter((shelf) => !SOURCES.includes(`${shelf}/index.ts`))).toEqual([]);
  });

  it("registers every member in its list, or a member uses it", () => {
    const wrong = shelves.flatMap((shelf) => {
      const members = SOURCES.filter(
        (file) => dirname(file) === shelf && !/\/(contract|index)\.ts$/.test(file),
      );
      const reached = new Set<string>();
      const visit = (file: string): void => {
        for (const specifier of importsOf(file)) {
          const target = posix.normalize(posix.join(dirname(file), specifier));
          if (members.includes(target) && !reached.has(target)) {
            reached.add(target);
            visit(target);
          }
        }
      };
      visit(`${shelf}/index.ts`);
      return members
        .filter((member) => !reached.has(member))
        .map((member) => `${member} is not in ${shelf}/index.ts`);
    });
    expect(wrong).toEqual([]);
  });
});

describe("size and names", () => {
  it("keeps files to 400 lines", () => {
    const long = [...SOURCES, ...files("templates", /\.(hbs|css)$/)]
      .map((file) => [file, text(file).trimEnd().split("\n").length] as const)
      .filter(([, count]) => count > 400);
    expect(long).toEqual([]);
  });

  it("keeps functions to 70 lines: the linter's rule is on", () => {
    const biome = JSON.parse(text("biome.json")) as {
      linter: { rules: { complexity: Record<string, { level: string; options: { maxLines: number } }> } };
    };
    expect(biome.linter.rules.complexity.noExcessiveLinesPerFunction).toMatchObject({
      level: "error",
      options: { maxLines: 70 },
    });
    const silenced = [...SOURCES, ...files("tests", /\.ts$/)].filter(
      (file) =>
        !file.endsWith("tidy.test.ts") && /biome-ignore|@ts-(?:ignore|expect-error|nocheck)/.test(text(file)),
    );
    expect(silenced).toEqual([]);
  });

  it("has no skipped, focused or empty test", () => {
    const tests = files("tests", /\.test\.ts$/).filter((file) => !file.endsWith("tidy.test.ts"));
    const marked = tests.filter((file) =>
      /\b(?:it|test|describe)\.(?:skip|only|todo|skipIf|runIf|fails)\b|\bx(?:it|describe)\(/.test(
        codeOf(text(file)),
      ),
    );
    const empty = tests.filter((file) => !/\bexpect\b|\bassert\b/.test(text(file)));
    expect({ marked, empty }).toEqual({ marked: [], empty: [] });
  });

  it("keeps the top level to what is fixed", () => {
    const allowed = [
      "README.md",
      "DEVELOPERS.md",
      "package.json",
      "package-lock.json",
      "tsconfig.json",
      "biome.json",
      ".gitignore",
      ".npmrc",
      ".puppeteerrc.cjs",
      ".ci",
      ".git",
      "src",
      "templates",
      "tests",
      "sample-logs",
      "reports",
      "node_modules",
      "dist",
    ];
    expect(readdirSync(ROOT).filter((name) => !allowed.includes(name))).toEqual([]);
  });

  it("says nothing of machine paths or of where the job came from", () => {
    const banned = [
      `/${"work"}/`,
      `/${"home"}/`,
      ["seed", "document"].join(" "),
      ["tran", "script"].join(""),
      ["CONTRACT", "md"].join("."),
      ["TRADE", "md"].join("."),
      `../${"shared"}`,
    ];
    const all = [
      ...SOURCES,
      ...files("tests", /\.(ts|json|csv|txt|yaml|md)$/),
      ...files("templates", /./),
      ...files("sample-logs", /./),
      "README.md",
      "DEVELOPERS.md",
      "package.json",
    ];
    const hits = all.flatMap((file) => {
      const content = text(file);
      return banned
        .filter((word) => content.toLowerCase().includes(word.toLowerCase()))
        .map((word) => `${file}: "${word}"`);
    });
    expect(hits).toEqual([]);
  });

  it("names every package that is installed, with its reason, in DEVELOPERS.md", () => {
    const manifest = JSON.parse(text("package.json")) as Record<string, Record<string, string> | undefined>;
    const names = [
      ...Object.keys(manifest.dependencies ?? {}),
      ...Object.keys(manifest.optionalDependencies ?? {}),
      ...Object.keys(manifest.devDependencies ?? {}),
    ];
    const developers = text("DEVELOPERS.md");
    expect(names.filter((name) => !developers.includes(`\`${name}\``))).toEqual([]);
    expect(statSync(join(ROOT, "package-lock.json")).size).toBeGreaterThan(0);
  });
});
