// The program as a process among others: pipes, signals, disks, streams of colour, names of files and folders.
import { execFileSync, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import {
  chmodSync,
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from "node:fs";
import { Socket } from "node:net";
import { join } from "node:path";
import { PDFDocument } from "pdf-lib";
import { afterAll, afterEach, describe, expect, inject, it, vi } from "vitest";
import { styleFor } from "../../src/cli/output.ts";
import { program } from "../../src/cli/program.ts";
import { PLAN } from "./badInputs.ts";
import { openProgram, SAMPLES } from "./plinth.ts";

const plinth = openProgram();
afterAll(() => plinth.remove());
afterEach(() => vi.unstubAllEnvs());

const ISSUED = ["--issued", "2026-11-25T07:00:00Z"];
const firstSide = join(SAMPLES, "3-first-side");
const planOf = (folder: string): string[] => ["--plan", join(folder, "plan.yaml")];
const put = (folder: string, name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
/** Nine touches of a face in one plane, but for the middle one. */
const face = (keys: string, height: number): string =>
  `${keys}# unit: mm\n# points: surface\nfeature,x,y,z\n${[-50, 0, 50]
    .flatMap((x) => [-50, 0, 50].map((y) => `face,${x},${y},${x === 0 && y === 0 ? height : 0}`))
    .join("\n")}\n`;

describe("every command", () => {
  const names = program().commands.map((command) => command.name());
  it("is one of those that the manual names", () => {
    for (const name of [
      "check",
      "report",
      "look",
      "watch",
      "nightly",
      "trend",
      "attach",
      "verify",
      "plan",
      "init",
      "doctor",
    ])
      expect(names).toContain(name);
  });
  it.concurrent.each(names)("%s --help ends with an example of itself", async (name) => {
    const { code, out, err } = await plinth.run([name, "--help"]);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(new RegExp(`\\nExample:\\n {2}plinth ${name}\\b`));
  });
});

describe("--json", () => {
  it("is one JSON text on stdout from every command that answers", async () => {
    const shop = join(plinth.folder(), "shop");
    // Without a browser to print with, which doctor reports and the digest goes without.
    const noBrowser = ["nightly", "doctor"];
    const answers = async (args: readonly string[]): Promise<unknown> => {
      const { code, out } = await plinth.run([...args, "--json"], {
        env: { PLINTH_BROWSER: "/nowhere/browser" },
      });
      expect([args[0], code]).toEqual([args[0], noBrowser.includes(args[0] ?? "") ? 4 : 0]);
      return JSON.parse(out);
    };
    const inShop = ["--workspace", shop];
    expect(await answers(["init", shop])).toMatchObject({ root: shop });
    copyFileSync(join(firstSide, "plan.yaml"), join(shop, "plans", "first-side.yaml"));
    for (const name of ["first-side.csv", "sign-offs.csv"])
      copyFileSync(join(firstSide, name), join(shop, "inbox", name));
    expect(await answers(["watch", "--once", ...inShop])).toMatchObject({ accepted: 2, rejected: 0 });
    const report = join(shop, "reports", "K-0417_30_first-side_r1.json");
    expect(await answers(["nightly", ...inShop])).toMatchObject({
      schema: "plinth.digest/1",
      counts: { fail: 1 },
    });
    expect(await answers(["trend", "wall-diameter", ...inShop])).toMatchObject([{ verdict: "pass" }]);
    expect(await answers(["attach", report, "--job", "K-0417", ...inShop])).toMatchObject({ revision: 1 });
    expect(await answers(["verify", report])).toMatchObject({ accepted: true });
    expect(await answers(["look", firstSide])).toHaveLength(2);
    expect(await answers(["doctor"])).toContainEqual(
      expect.objectContaining({ what: "browser", works: false }),
    );
    const [written] = (await answers([
      "report",
      firstSide,
      ...planOf(firstSide),
      "--out",
      join(shop, "out"),
      "--format",
      "json",
    ])) as {
      files: string[];
    }[];
    expect(written?.files.map((file) => file.split("/").at(-1))).toEqual(["K-0417_30_first-side_r1.json"]);
  });
});

describe("--fail-on", () => {
  const twoFaces = PLAN.replace("simple", "guarded").replace(
    "  - {id: flat",
    "  - {id: guess, kind: flatness, of: face, max: 1 mm}\n  - {id: flat",
  );
  const code = async (plan: string, height: number, on: string): Promise<number | null> => {
    const folder = plinth.folder();
    const given = [put(folder, "face.csv", face("", height)), "--plan", put(folder, "plan.yaml", plan)];
    return (await plinth.run(["check", ...given, "--fail-on", on])).code;
  };
  it("gives 10 before 11, and 11 for what is undecided or missing only when asked", async () => {
    // No uncertainty is stated: a guarded rule leaves both undecided, however far off the face is.
    expect(await Promise.all(["fail", "undecided"].map((on) => code(twoFaces, 0.02, on)))).toEqual([0, 11]);
    const asked = `${PLAN}sign-offs:\n  - {id: stoned, ask: Seat stoned}\n`;
    expect(await Promise.all(["fail", "undecided"].map((on) => code(asked, 0.002, on)))).toEqual([0, 11]);
    // Too high by far and a sign-off missing: the fail counts.
    expect(await Promise.all(["fail", "undecided"].map((on) => code(asked, 0.02, on)))).toEqual([10, 10]);
  });
});

describe("a bug of ours", () => {
  it("exits 70, says so and asks for what is needed to find it", async () => {
    const { code, out, err } = await plinth.run(["check", firstSide, ...planOf(firstSide), "--json"], {
      env: {
        NODE_OPTIONS: `--import="data:text/javascript,JSON.stringify=()=>{throw new RangeError('broken')}"`,
      },
    });
    expect([code, out]).toEqual([70, ""]);
    expect(err).toMatch(
      /^Plinth 0\.0\.0-test has a bug\. Nothing of your data was changed\. Please report what you ran/,
    );
    expect(err).toContain("RangeError: broken");
  });
});

describe("streams", () => {
  it("keeps its exit code and its peace when the reader goes away", async () => {
    for (const more of [[], ["--json"], ["--quiet"]]) {
      const { code, err } = await plinth.run(
        ["check", firstSide, ...planOf(firstSide), "--fail-on", "fail", ...more],
        {
          started: (child) => child.stdout?.destroy(),
        },
      );
      expect([code, err]).toEqual([10, ""]);
    }
    const folder = plinth.folder();
    const bad = put(folder, "bad.csv", "feature,x,y,z\nface,1,2,3\n");
    const { code } = await plinth.run(["look", bad], { started: (child) => child.stderr?.destroy() });
    expect(code).toBe(3);
  });
  it("say so, and exit 4, when there is no room for what is printed", () => {
    // The device that is always full is Linux's.
    const full = process.platform === "linux" ? openSync("/dev/full", "w") : null;
    const commands = [
      ["check", firstSide, ...planOf(firstSide)],
      ["check", firstSide, ...planOf(firstSide), "--json"],
      ["look", firstSide],
      ["plan", "column"],
    ];
    for (const command of full === null ? [] : commands) {
      const { status, stderr } = spawnSync(
        process.execPath,
        [join(inject("built"), "dist/cli/plinth.js"), ...command],
        { stdio: ["ignore", full, "pipe"], encoding: "utf8" },
      );
      expect([status, stderr.includes("ENOSPC")], command.join(" ")).toEqual([4, true]);
    }
    if (full !== null) closeSync(full);
  });
  it("prints all of it to a reader who is slow behind a pipe that does not wait", async () => {
    if (process.platform === "win32") return;
    const folder = plinth.folder();
    const pipe = join(folder, "pipe");
    execFileSync("mkfifo", [pipe]);
    const reader = openSync(pipe, constants.O_RDONLY | constants.O_NONBLOCK);
    const writer = openSync(pipe, constants.O_WRONLY | constants.O_NONBLOCK);
    const rows = Array.from({ length: 3000 }, (_, i) => `face,${i % 50},${Math.floor(i / 50)},0.001\n`);
    const log = put(folder, "face.csv", `# unit: mm\n# points: surface\nfeature,x,y,z\n${rows.join("")}`);
    const command = ["check", log, "--plan", put(folder, "plan.yaml", PLAN), "--json"];
    const env = { ...process.env, SOURCE_DATE_EPOCH: "1764000000" };
    const child = spawn(process.execPath, [join(inject("built"), "dist/cli/plinth.js"), ...command], {
      stdio: ["ignore", writer, "inherit"],
      env,
    });
    closeSync(writer);
    const ended = once(child, "exit");
    // A pipe holds 64 kB; the program has filled it and waits.
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(child.exitCode).toBeNull();
    let text = "";
    for await (const part of new Socket({ fd: reader })) text += part;
    expect((await ended)[0]).toBe(0);
    expect(text).toBe((await plinth.run(command, { env })).out);
    expect(text.length).toBeGreaterThan(1 << 16);
  });
  it("are not loaded, nor what hashes, for an answer that needs neither", () => {
    if (process.platform === "win32") return;
    const folder = plinth.folder();
    const list = join(folder, "loaded");
    const told = `process.on("exit", () => require("fs").writeFileSync(${JSON.stringify(list)}, process.moduleLoadList.join("\\n")))`;
    const { status, stdout } = spawnSync(
      process.execPath,
      [
        "--require",
        put(folder, "told.cjs", told),
        join(inject("built"), "dist/cli/plinth.js"),
        "check",
        firstSide,
        ...planOf(firstSide),
      ],
      { encoding: "utf8" },
    );
    expect([status, stdout.length > 500]).toEqual([0, true]);
    const loaded = readFileSync(list, "utf8").split("\n");
    expect(loaded).toContain("NativeModule vm");
    expect(loaded).not.toContain("NativeModule crypto");
    expect(loaded).not.toContain("NativeModule stream");
  });
  it("styles a terminal, but not with NO_COLOR, on a dumb one or in a pipe", () => {
    const looks = (terminal: boolean, environment: Record<string, string>): string => {
      vi.stubEnv("NO_COLOR", undefined);
      vi.stubEnv("TERM", "xterm");
      for (const [key, value] of Object.entries(environment)) vi.stubEnv(key, value);
      return styleFor(terminal).inverse("FAIL");
    };
    expect(looks(true, {})).toBe("\u001b[7mFAIL\u001b[27m");
    expect(looks(true, { NO_COLOR: "" })).toBe("\u001b[7mFAIL\u001b[27m");
    expect(looks(true, { NO_COLOR: "1" })).toBe("FAIL");
    expect(looks(true, { TERM: "dumb" })).toBe("FAIL");
    expect(looks(false, {})).toBe("FAIL");
  });
  it("reaches a terminal, where what logs and plans say is still only shown", () => {
    // `script` is part of every Debian.
    if (process.platform !== "linux") return;
    const folder = plinth.folder();
    const log = put(folder, "face.csv", face("# job: K\u001b[2J-1\n", 0.02));
    const plan = put(folder, "seat.yaml", PLAN.replace(/^title: .*$/m, 'title: "A\\e[2Jplan"'));
    const out = join(folder, "out");
    for (const command of [
      `check ${log} --plan ${plan}`,
      `look ${log} --plan ${plan}`,
      `report ${log} --plan ${plan} --out ${out} --format json`,
      `verify ${join(out, "*.json")}`,
    ]) {
      const { stdout } = spawnSync(
        "script",
        [
          "-qec",
          `${process.execPath} ${join(inject("built"), "dist/cli/plinth.js")} ${command}`,
          "/dev/null",
        ],
        { encoding: "utf8", env: { ...process.env, TERM: "xterm", NO_COLOR: "" } },
      );
      expect(stdout, command).toMatch(/^\u001b\[[17]m/);
      expect(stdout.replace(/\u001b\[(?:1|7|22|27)m/g, ""), command).not.toContain("\u001b");
      if (!command.startsWith("verify")) expect(stdout, command).toContain("[2J");
    }
  });
  it("shows a log's control characters instead of obeying them", async () => {
    const folder = plinth.folder();
    const log = put(folder, "face.csv", face("# job: K\u001b[2J\u0007-1\n# operator: \u202egnp\n", 0));
    const plan = put(folder, "seat.yaml", PLAN);
    for (const command of [
      ["check", log, "--plan", plan],
      ["look", log],
    ]) {
      const { code, out, err } = await plinth.run(command);
      expect([command[0], code, err]).toEqual([command[0], 0, ""]);
      expect(out).toContain("K");
      expect(out).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f\u202e]/);
    }
  });
});

describe("long names", () => {
  it("are cut on the terminal, with their length", async () => {
    const folder = plinth.folder();
    const log = put(
      folder,
      "face.csv",
      face(`# job: ${"J".repeat(5000)}\n# operator: ${"o".repeat(5000)}\n`, 0),
    );
    const plan = put(folder, "seat.yaml", PLAN);
    for (const command of [
      ["check", log, "--plan", plan],
      ["look", log],
    ]) {
      const { code, out } = await plinth.run(command);
      expect([command[0], code]).toEqual([command[0], 0]);
      expect(out).toMatch(/J{40,160}\.\.\. \(5000 characters\)/);
      expect(Math.max(...out.split("\n").map((line) => line.length))).toBeLessThan(260);
    }
  });
});

describe("an interrupt", () => {
  it("while a browser prints leaves no half-written file and no process, and the next run does the work", async () => {
    const folder = plinth.folder();
    const out = join(folder, "out");
    const told = join(folder, "browser.pid");
    // Stands in for a browser that never answers.
    const browser = put(folder, "browser", `#!/bin/sh\necho $$ > '${told}'\nexec sleep 60\n`);
    chmodSync(browser, 0o755);
    const args = ["report", firstSide, ...planOf(firstSide), "--out", out, ...ISSUED];
    const stopped = await plinth.run(args, {
      env: { PLINTH_BROWSER: browser },
      started: (child) => {
        const timer = setInterval(() => {
          if (!existsSync(told) || readFileSync(told, "utf8") === "") return;
          clearInterval(timer);
          child.kill("SIGINT");
        }, 20);
      },
    });
    expect([stopped.signal ?? stopped.code, stopped.out, stopped.err]).toEqual([
      expect.toBeOneOf(["SIGINT", 130]),
      "",
      "",
    ]);
    const pid = Number(readFileSync(told, "utf8"));
    await expect.poll(() => isRunning(pid), { timeout: 5000 }).toBe(false);
    expect(existsSync(out) ? readdirSync(out) : []).toEqual([]);
    expect((await plinth.run(args)).code).toBe(0);
    const names = ["html", "json", "pdf"].map((ending) => `K-0417_30_first-side_r1.${ending}`);
    expect(readdirSync(out)).toEqual(names);
  });
});
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

describe("paper", () => {
  it.each([
    ["a4", 595.3, 841.9],
    ["letter", 612, 792],
  ])("%s has its size on every page", async (page, width, height) => {
    const out = join(plinth.folder(), "out");
    const args = ["report", firstSide, ...planOf(firstSide), "--out", out, "--page", page, "--format", "pdf"];
    expect((await plinth.run(args)).code).toBe(0);
    expect(readdirSync(out)).toEqual(["K-0417_30_first-side_r1.json", "K-0417_30_first-side_r1.pdf"]);
    const pdf = await PDFDocument.load(readFileSync(join(out, "K-0417_30_first-side_r1.pdf")));
    for (const sheet of pdf.getPages()) {
      expect(Math.abs(sheet.getWidth() - width)).toBeLessThan(1);
      expect(Math.abs(sheet.getHeight() - height)).toBeLessThan(1);
    }
  });
  it("refuses other sizes", async () => {
    const { code, err } = await plinth.run(["report", firstSide, ...planOf(firstSide), "--page", "a3"]);
    expect(code).toBe(2);
    expect(err).toContain("Allowed choices are a4, letter");
  });
});

describe("revisions", () => {
  it("the page of the next one says what it replaces", async () => {
    const folder = plinth.folder();
    const run = (height: number) =>
      plinth.run([
        "report",
        put(folder, "face.csv", face("# job: K-1\n# operation: 10\n", height)),
        "--plan",
        put(folder, "seat.yaml", PLAN),
        "--out",
        join(folder, "out"),
        "--format",
        "html",
        ...ISSUED,
      ]);
    await run(0.002);
    await run(0.003);
    const replaced = (page = "") =>
      page
        .replace(/<style>[\s\S]*?<\/style>/g, "")
        .match(/Replaces revision \d+, which is no longer valid/g) ?? [];
    const pages = [1, 2].map((n) => readFileSync(join(folder, "out", `K-1_10_seat_r${n}.html`), "utf8"));
    expect(replaced(pages[0])).toEqual([]);
    expect(replaced(pages[1])).toEqual(["Replaces revision 1, which is no longer valid"]);
  });
});

describe("names", () => {
  it("takes logs, plans and folders with blanks, umlauts and leading dots", async () => {
    const folder = join(plinth.folder(), "Säule ①");
    mkdirSync(folder);
    const logs = [".versteckt ü.csv", "-x.csv", "face 0 (left).csv"].map((name, i) =>
      put(folder, name, face(`# job: K-${i}\n# operation: 10\n`, 0.002)),
    );
    const plan = put(folder, "Plan für Säule.yaml", PLAN);
    const { code, err } = await plinth.run([
      "report",
      ...logs,
      "--plan",
      plan,
      "--out",
      join(folder, "o u t"),
      "--format",
      "json,html",
    ]);
    expect([code, err]).toEqual([0, ""]);
    expect(readdirSync(join(folder, "o u t"))).toHaveLength(6);
  });
  it.each([
    ["../../up", "/etc"],
    [".hidden", ".."],
    ["K 0417/ü", "10\u0000"],
    ["CON", "a".repeat(300)],
    ["a\\b:c*?", "10."],
  ])("job %j and operation %j stay one file name in the folder", async (job, operation) => {
    const folder = plinth.folder();
    const log = put(folder, "face.csv", face(`# job: ${job}\n# operation: ${operation}\n`, 0.002));
    const plan = put(folder, "seat.yaml", PLAN);
    const { code } = await plinth.run([
      "report",
      log,
      "--plan",
      plan,
      "--out",
      join(folder, "out"),
      "--format",
      "json",
    ]);
    expect(code).toBe(0);
    expect(
      readdirSync(folder)
        .filter((name) => name !== "out")
        .sort(),
    ).toEqual(["face.csv", "seat.yaml"]);
    for (const name of readdirSync(join(folder, "out"))) {
      expect(name).toMatch(/^[A-Za-z0-9-][A-Za-z0-9.-]*_[A-Za-z0-9-][A-Za-z0-9.-]*_seat_r1\.json$/);
      expect(name.length).toBeLessThan(150);
    }
  });
  it("keeps two jobs apart whose names meet after cleaning", async () => {
    const folder = plinth.folder();
    const logs = ["K/1", "K:1"].map((job, i) =>
      put(folder, `${i}.csv`, face(`# job: ${job}\n# operation: 10\n`, 0.002)),
    );
    const plan = put(folder, "seat.yaml", PLAN);
    await plinth.run(["report", ...logs, "--plan", plan, "--out", join(folder, "out"), "--format", "json"]);
    const names = readdirSync(join(folder, "out"));
    expect(names).toHaveLength(2);
    for (const name of names) expect(name).toMatch(/^K-1-[0-9a-f]{6}_10_seat_r1\.json$/);
  });
});
