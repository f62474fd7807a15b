import { Buffer } from "node:buffer";
import { writeFileSync } from "node:fs";
import { chmod, mkdir, readFile, rename, rm, symlink, utimes, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openWorkspace } from "../../src/records/workspace.ts";
import { watch } from "../../src/runs/watch.ts";
import {
  allFiles,
  drain,
  drop,
  expectWhole,
  faceLog,
  makeWorkspace,
  namesIn,
  noBrowser,
  PLAN,
  quickEffects,
  reportOf,
} from "./harness.ts";

const epoch = (time: string): Record<string, string> => ({
  SOURCE_DATE_EPOCH: String(Date.parse(time) / 1000),
});

describe("logs become reports", () => {
  it("gathers the logs of one setup into one revision, and says what is missing", async () => {
    const root = await makeWorkspace();
    const logs = [
      faceLog(),
      "# job: J-1\n# operation: 10\n# plan: seat\ncheck,value,by\nstoned,yes,M. Berg\n",
    ];
    await drop(root, "face-0.csv", logs[0] ?? "");
    await drop(root, "signs.csv", logs[1] ?? "");
    const result = await drain(root);
    expect(result).toMatchObject({
      accepted: 2,
      rejected: 0,
      reports: [{ id: "J-1_10_seat", revision: 1, verdict: "missing" }],
    });
    const report = await reportOf(root, "J-1_10_seat_r1.json");
    expect(report.counts).toEqual({ pass: 2, fail: 0, undecided: 0, missing: 1 });
    expect(await expectWhole(root, logs)).toEqual({ revisions: 1 });
  });

  it("makes a next revision that holds the earlier logs and names what it replaces", async () => {
    const root = await makeWorkspace();
    const logs = [faceLog(), faceLog({ face: "face-90" }), faceLog({ height: 1 })];
    await drop(root, "a.csv", logs[0] ?? "");
    await drain(root);
    await drop(root, "b.csv", logs[1] ?? "");
    await drain(root);
    await drop(root, "a.csv", logs[2] ?? "");
    await drain(root);
    const second = await reportOf(root, "J-1_10_seat_r2.json");
    const third = await reportOf(root, "J-1_10_seat_r3.json");
    expect(second.logs.map((log) => log.name)).toEqual(["a.csv", "b.csv"]);
    // They did not come together, and the report does not say so; it verifies all the same (expectWhole).
    expect(second.findings).toContainEqual(
      expect.objectContaining({
        level: "warning",
        code: "joined-logs",
        text: "b.csv came later and joined the report of a.csv; they state the same job and no setup number",
      }),
    );
    expect(third.report).toMatchObject({ revision: 3, replaces: 2 });
    expect(third.logs.map((log) => log.name).sort()).toEqual(["a.csv", "b.csv"]);
    expect(third.features["face-0"]?.center?.[2]).toBeCloseTo(1, 2);
    expect(await expectWhole(root, logs)).toEqual({ revisions: 3 });
  });

  it("takes the same bytes again out of the inbox without a revision, whatever the name", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    await drain(root);
    await drop(root, "a.csv", faceLog());
    await drop(root, "other name.csv", faceLog());
    const again = await drain(root);
    expect(again).toMatchObject({ accepted: 0, rejected: 0, duplicates: 2, reports: [] });
    expect(again.told.join("\n")).toContain("the same bytes are known as a.csv in J-1_10_seat");
    expect(await expectWhole(root, [faceLog()])).toEqual({ revisions: 1 });
  });

  it("says of known bytes that another log has replaced how they count again, and that way works", async () => {
    const root = await makeWorkspace();
    const [right, wrong] = [faceLog(), faceLog({ height: 2 })];
    for (const text of [right, wrong]) {
      await drop(root, "a.csv", text);
      await drain(root);
    }
    await drop(root, "a.csv", right);
    const again = await drain(root);
    expect(again).toMatchObject({ accepted: 0, duplicates: 1, reports: [] });
    expect(again.told.join("\n")).toContain(
      'a.csv: the same bytes are known as a.csv in J-1_10_seat; removed from the inbox, no revision made. But J-1_10_seat r2 uses another log in its place, dropped later as a.csv; to use this one again, add a line such as "# note: counts again" to its header and drop it as a.csv.',
    );
    await drop(root, "a.csv", wrong);
    expect((await drain(root)).told.join("\n")).toContain("removed from the inbox, nothing to do.");
    const marked = `# note: counts again\n${right}`;
    await drop(root, "a.csv", marked);
    await drain(root);
    const { logs, features } = await reportOf(root, "J-1_10_seat_r3.json");
    expect(logs.map(({ name, rows }) => [name, rows])).toEqual([["a.csv", 9]]);
    expect(features["face-0"]?.center?.[2]).toBeCloseTo(0, 2);
    await expectWhole(root, [right, wrong, marked]);
  });

  it("counts the same bytes under two names dropped together once", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    await drop(root, "b.csv", faceLog());
    expect(await drain(root)).toMatchObject({ accepted: 1, duplicates: 1, reports: [{ revision: 1 }] });
    expect(await expectWhole(root, [faceLog()])).toEqual({ revisions: 1 });
  });

  it("writes back an archived log that was lost when its bytes come again", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    await drain(root);
    const [archived = ""] = (await allFiles(root)).filter((file) => file.startsWith("archive/"));
    await rm(join(root, archived));
    await drop(root, "a.csv", faceLog());
    await drain(root);
    expect(await expectWhole(root, [faceLog()])).toEqual({ revisions: 1 });
  });

  it("obeys SOURCE_DATE_EPOCH in the time of issue and the place in the archive", async () => {
    const root = await makeWorkspace(PLAN, "time-zone: Pacific/Auckland\n");
    await drop(root, "a.csv", faceLog());
    await drain(root, { effects: quickEffects(epoch("2026-03-04T20:00:00Z")) });
    expect((await reportOf(root, "J-1_10_seat_r1.json")).report.issued).toBe("2026-03-04T20:00:00Z");
    // Thirteen hours further on it is the next day.
    expect((await allFiles(root)).filter((file) => file.startsWith("archive/"))[0]).toMatch(
      /^archive\/2026\/03\/05\//,
    );
  });

  it("shows the shop's unit where the plan names none", async () => {
    const inches = await makeWorkspace(PLAN, "show: in\n");
    await drop(inches, "a.csv", faceLog());
    await drain(inches);
    expect((await reportOf(inches, "J-1_10_seat_r1.json")).show).toBe("in");
    await expectWhole(inches, [faceLog()]);
    const stated = await makeWorkspace(`${PLAN}show: mm\n`, "show: in\n");
    await drop(stated, "a.csv", faceLog());
    await drain(stated);
    expect((await reportOf(stated, "J-1_10_seat_r1.json")).show).toBe("mm");
  });

  it("makes JSON and HTML where there is no browser, and says so", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    const { told } = await drain(root);
    expect(told.join("\n")).toContain("No PDF of J-1_10_seat_r1: there is no browser here.");
    expect((await namesIn(root, "reports")).filter((name) => name.startsWith("J-1"))).toEqual([
      "J-1_10_seat_r1.html",
      "J-1_10_seat_r1.json",
    ]);
    const crashing = await makeWorkspace();
    await drop(crashing, "a.csv", faceLog());
    const failed = await drain(crashing, {
      printer: () => ({
        print: () => Promise.reject(new Error("it fell over")),
        close: async () => undefined,
      }),
    });
    expect(failed).toMatchObject({ accepted: 1, rejected: 0 });
    expect(failed.told.join("\n")).toContain("it fell over");
  });
});

describe("setups stay apart", () => {
  it("never merges logs that differ in machine, pallet or serial, and keeps their names apart", async () => {
    const root = await makeWorkspace();
    const logs = [
      faceLog({ header: { pallet: "1" } }),
      faceLog({ header: { pallet: "2" } }),
      faceLog({ header: { pallet: "1", serial: "7" }, face: "face-90" }),
      faceLog({ header: { machine: "HM-2", pallet: "2", serial: "8" }, face: "face-90" }),
      faceLog({ header: { pallet: "2", serial: "9" }, face: "face-90" }),
    ];
    for (const [at, log] of logs.entries()) {
      await drop(root, `${at}.csv`, log);
      await drain(root);
    }
    const reports = (await namesIn(root, "reports")).filter((name) => name.endsWith(".json"));
    expect(reports).toHaveLength(5);
    // The third joined the first's chain, the fourth the second's, the fifth has another serial than the fourth.
    const ids = new Set(reports.map((name) => name.replace(/_r\d+\.json$/, "")));
    expect(ids.size).toBe(3);
    for (const name of reports) {
      const { setup } = await reportOf(root, name);
      for (const key of ["machine", "pallet", "serial"]) expect(setup[key] ?? "").not.toContain(";");
    }
    await expectWhole(root, logs);
  });

  it("lets a log that leaves out the pallet join the only setup it fits, and none when there are two", async () => {
    const root = await makeWorkspace();
    const signs = "# job: J-1\n# operation: 10\n# plan: seat\ncheck,value\nstoned,yes\n";
    await drop(root, "a.csv", faceLog({ header: { pallet: "1" } }));
    await drain(root);
    await drop(root, "s.csv", signs);
    await drain(root);
    expect((await reportOf(root, "J-1_10_seat_r2.json")).logs).toHaveLength(2);
    const other = faceLog({ header: { pallet: "2" } });
    await drop(root, "b.csv", other);
    await drain(root);
    const more = "# job: J-1\n# operation: 10\n# plan: seat\ncheck,value\nstoned,no\n";
    await drop(root, "t.csv", more);
    await drain(root);
    const reports = (await namesIn(root, "reports")).filter((name) => name.endsWith(".json"));
    expect(reports).toHaveLength(4);
    expect(new Set(reports.map((name) => name.replace(/_r\d+\.json$/, ""))).size).toBe(3);
    await expectWhole(root, [faceLog({ header: { pallet: "1" } }), signs, other, more]);
  });

  it("joins logs without a job on one day and not on the next", async () => {
    const root = await makeWorkspace();
    const log = (day: string, face: string) =>
      faceLog({ face, header: { job: "", time: `${day}T08:00:00` } });
    const logs = [log("2026-03-04", "face-0"), log("2026-03-04", "face-90"), log("2026-03-05", "face-0")];
    for (const [at, text] of logs.entries()) {
      await drop(root, `${at}.csv`, text);
      await drain(root);
    }
    const reports = (await namesIn(root, "reports")).filter((name) => name.endsWith(".json"));
    expect(reports.map((name) => name.replace(/_[0-9a-f]{6}_r/, "_HASH_r"))).toEqual([
      "no-job_10_seat_HASH_r1.json",
      "no-job_10_seat_r1.json",
      "no-job_10_seat_r2.json",
    ]);
    await expectWhole(root, logs);
  });

  it("starts another chain for another setup number, and another plan", async () => {
    const root = await makeWorkspace();
    await writeFile(join(root, "plans", "two.yaml"), PLAN.replace("name: seat", "name: two"));
    const logs = [
      faceLog({ header: { setup: "1" } }),
      faceLog({ header: { setup: "2" } }),
      faceLog({ header: { plan: "two" } }),
    ];
    for (const [at, text] of logs.entries()) await drop(root, `${at}.csv`, text);
    expect((await drain(root)).reports.map(({ id }) => id).sort()).toEqual([
      "J-1_10_seat_1",
      "J-1_10_seat_2",
      "J-1_10_two",
    ]);
    await expectWhole(root, logs);
  });
});

describe("which plan", () => {
  it("finds it by header, by the settings' patterns, by the plans' own, in this order", async () => {
    const root = await makeWorkspace(PLAN, 'match:\n  two: ["x-*.csv"]\n');
    await writeFile(join(root, "plans", "two.yaml"), PLAN.replace("name: seat", "name: two"));
    await writeFile(
      join(root, "plans", "three.yaml"),
      PLAN.replace("name: seat", 'name: three\nmatch: ["x-*", "y-?.csv"]'),
    );
    await drop(root, "x-1.csv", faceLog({ header: { job: "A" } }));
    await drop(root, "X-2.CSV", faceLog({ header: { job: "B", plan: "" } }));
    await drop(root, "y-1.csv", faceLog({ header: { job: "C", plan: "" } }));
    await drop(root, "z.csv", faceLog({ header: { job: "D", plan: "" } }));
    const result = await drain(root);
    expect(result.reports.map(({ id }) => id).sort()).toEqual(["A_10_seat", "B_10_two", "C_10_three"]);
    expect(result.rejected).toBe(1);
    const reason = await readFile(join(root, "inbox", "rejected", "z.csv.reason.txt"), "utf8");
    expect(reason).toMatch(/Which plan is it for\?.*# plan: NAME.*match:/);
  });

  it("rejects a log whose plan is not there or has mistakes, with the plan's place", async () => {
    const root = await makeWorkspace();
    await writeFile(join(root, "plans", "bad.yaml"), PLAN.replace("flatness", "flatnes"));
    await drop(root, "a.csv", faceLog({ header: { plan: "bad" } }));
    await drop(root, "b.csv", faceLog({ header: { plan: "nowhere" } }));
    await drop(root, "c.csv", faceLog());
    expect(await drain(root)).toMatchObject({ accepted: 1, rejected: 2 });
    const reason = (name: string) => readFile(join(root, "inbox", "rejected", `${name}.reason.txt`), "utf8");
    expect(await reason("a.csv")).toMatch(/bad\.yaml:\d+:\d+:.*did you mean "flatness"/);
    expect(await reason("b.csv")).toContain("plans/ has no such plan. Plans: bad, seat.");
  });
});

describe("what cannot be used", () => {
  it("numbers a second reject of one name and keeps both, with their reasons", async () => {
    const root = await makeWorkspace();
    for (const text of ["x", "y"]) {
      await drop(root, "a.csv", text);
      expect(await drain(root)).toMatchObject({ rejected: 1 });
    }
    expect(await namesIn(root, "inbox", "rejected")).toEqual([
      "a-2.csv",
      "a-2.csv.reason.txt",
      "a.csv",
      "a.csv.reason.txt",
    ]);
    expect(await readFile(join(root, "inbox", "rejected", "a-2.csv"), "utf8")).toBe("y");
  });

  it("takes a mended log that was rejected before", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog({ header: { state: "nonsense" } }));
    expect(await drain(root)).toMatchObject({ rejected: 1 });
    await drop(root, "a.csv", faceLog());
    expect(await drain(root)).toMatchObject({ accepted: 1, rejected: 0 });
    await expectWhole(root, [faceLog()]);
  });

  it("rejects only the log that cannot go with the others", async () => {
    const root = await makeWorkspace();
    await rename(join(root, "plans", "seat.yaml"), join(root, "plans", "other-name.yaml"));
    const good = [faceLog(), faceLog({ face: "face-90" })];
    await drop(root, "a.csv", good[0] ?? "");
    await drop(root, "b.csv", faceLog({ header: { plan: "other-name" }, height: 3 }));
    await drop(root, "c.csv", good[1] ?? "");
    expect(await drain(root)).toMatchObject({ accepted: 2, rejected: 1 });
    expect(await readFile(join(root, "inbox", "rejected", "b.csv.reason.txt"), "utf8")).toContain(
      "gives 2 setups",
    );
    await expectWhole(root, good);
  });

  it("holds hostile names and things that are no files", async () => {
    const root = await makeWorkspace();
    const names = [
      "CON",
      "..csv",
      "'quoted' \"twice\".csv",
      "new\nline.csv",
      "tab\there.csv",
      "Größe 测.csv",
      "-rf",
      "$(x).csv",
      `${"n".repeat(251)}.csv`,
      "%2e%2e%2fx.csv",
      "a.reason.txt",
    ];
    const inBox = names.filter((name) => !name.startsWith("."));
    const logs: string[] = [];
    for (const [at, name] of inBox.entries()) {
      const text = faceLog({ header: { job: `H-${at}` } });
      logs.push(text);
      await drop(root, name, text);
    }
    await drop(root, "..csv", "hidden");
    await drop(root, "half.TMP", "half");
    await drop(root, "half.part", "half");
    await drop(root, "empty", "");
    await drop(root, `${"m".repeat(251)}.csv`, "no log");
    await drop(root, "nul\u0001l.csv", Buffer.from([0, 1, 2, 255]));
    await symlink("/etc/hostname", join(root, "inbox", "link.csv"));
    await symlink("/nowhere", join(root, "inbox", "dangling.csv"));
    await mkdir(join(root, "inbox", "folder.csv"));
    await writeFile(join(root, "inbox", "folder.csv", "inner.csv"), faceLog());
    const result = await drain(root);
    expect(result).toMatchObject({ accepted: inBox.length, rejected: 5 });
    expect(await namesIn(root, "inbox")).toEqual([
      "..csv",
      "folder.csv",
      "half.TMP",
      "half.part",
      "rejected",
    ]);
    expect(result.told.join("\n")).toContain("Folders in the inbox are not looked into: folder.csv");
    const rejected = await namesIn(root, "inbox", "rejected");
    expect(rejected).toHaveLength(10);
    for (const name of rejected.filter((one) => !one.endsWith(".reason.txt")))
      expect(rejected).toContain(`${name}.reason.txt`);
    expect(await readFile(join(root, "inbox", "rejected", "link.csv.reason.txt"), "utf8")).toContain(
      "a link, not a file",
    );
    for (const name of ["..csv", "half.TMP", "half.part", "folder.csv/inner.csv"])
      await rm(join(root, "inbox", name));
    await expectWhole(root, logs);
    const shown = await reportOf(root, `H-${inBox.indexOf("new\nline.csv")}_10_seat_r1.json`);
    expect(shown.logs[0]?.name).toBe("new_line.csv");
  });

  it("takes a file whose name is not UTF-8", async () => {
    const root = await makeWorkspace();
    await writeFile(
      Buffer.concat([Buffer.from(`${root}/inbox/`), Buffer.from([0xe9, 0x74, 0xe9]), Buffer.from(".csv")]),
      faceLog(),
    );
    expect(await drain(root)).toMatchObject({ accepted: 1 });
    await expectWhole(root, [faceLog()]);
  });

  it("leaves files older than the settings say, and ends", async () => {
    const root = await makeWorkspace(PLAN, "watch: {leave-older-than: 30 days}\n");
    await drop(root, "old.csv", faceLog());
    await utimes(join(root, "inbox", "old.csv"), new Date("2020-01-01"), new Date("2020-01-01"));
    await drop(root, "new.csv", faceLog({ height: 2 }));
    const result = await drain(root);
    expect(result).toMatchObject({ accepted: 1 });
    expect(await namesIn(root, "inbox")).toEqual(["old.csv", "rejected"]);
    expect(result.told.join("\n")).toContain("1 files in the inbox are older than 30 days");
  });
});

describe("what happens beside", () => {
  it("refuses a new log where the archive under its chain was changed, and goes on with others", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    await drain(root);
    const [archived = ""] = (await allFiles(root)).filter((file) => file.startsWith("archive/"));
    await chmod(join(root, archived), 0o644);
    await writeFile(join(root, archived), "changed");
    await drop(root, "b.csv", faceLog({ face: "face-90" }));
    await drop(root, "c.csv", faceLog({ header: { job: "J-2" } }));
    expect(await drain(root)).toMatchObject({ accepted: 1, rejected: 1 });
    expect(await readFile(join(root, "inbox", "rejected", "b.csv.reason.txt"), "utf8")).toContain(
      "has been changed",
    );
  });

  it("gives the next number where a stored report is damaged, and overwrites nothing", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    await drain(root);
    const first = join(root, "reports", "J-1_10_seat_r1.json");
    await writeFile(first, '{"half":');
    await drop(root, "b.csv", faceLog({ face: "face-90" }));
    await drain(root);
    expect((await reportOf(root, "J-1_10_seat_r2.json")).report).toMatchObject({ revision: 2, replaces: 1 });
    expect(await readFile(first, "utf8")).toBe('{"half":');
  });

  it("keeps a run log of JSON lines under one run id, and a heartbeat", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog());
    await drop(root, "b.csv", "no log");
    await drain(root);
    const [day = ""] = await namesIn(root, ".plinth", "log");
    const lines = (await readFile(join(root, ".plinth", "log", day), "utf8"))
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, string>);
    expect(lines.map((line) => line.event)).toEqual(["started", "rejected", "no-pdf", "revision", "ended"]);
    expect(new Set(lines.map((line) => line.run)).size).toBe(1);
    expect(JSON.parse(await readFile(join(root, ".plinth", "heartbeat.json"), "utf8"))).toMatchObject({
      state: "ended",
      done: 2,
    });
  });

  it("removes old run logs and nothing else", async () => {
    const root = await makeWorkspace(PLAN, "retention: {run-log: 10 days, rejected: 5 days}\n");
    const old = [
      "archive/2001/01/01/x",
      "reports/x.json",
      "records/J/manifest.json",
      ".plinth/log/2001-01-01.jsonl",
      "inbox/rejected/old.csv",
      ".plinth/log/other.txt",
    ];
    for (const file of old) {
      await mkdir(join(root, file, ".."), { recursive: true });
      await writeFile(join(root, file), "x");
      await utimes(join(root, file), new Date("2001-01-01"), new Date("2001-01-01"));
    }
    await drain(root);
    const left = await allFiles(root);
    expect(old.filter((file) => !left.includes(file))).toEqual([
      ".plinth/log/2001-01-01.jsonl",
      "inbox/rejected/old.csv",
    ]);
  });
});

describe("many at once", () => {
  it("gives each of a newcomer's old setups one revision, not one for each file", async () => {
    const root = await makeWorkspace();
    const logs = Array.from({ length: 240 }, (_, at) =>
      faceLog({ header: { job: `J-${at % 4}` }, height: at }),
    );
    for (const [at, text] of logs.entries()) {
      await drop(root, `${at}.csv`, text);
      await utimes(join(root, "inbox", `${at}.csv`), new Date("2021-05-05"), new Date("2021-05-05"));
    }
    expect(await drain(root)).toMatchObject({ accepted: 240, rejected: 0 });
    expect(await expectWhole(root, logs)).toEqual({ revisions: 4 });
  });

  it("lets a log that is dropped today go before what is left of a long queue of old ones", async () => {
    const root = await makeWorkspace();
    const logs = Array.from({ length: 60 }, (_, at) => faceLog({ header: { job: `OLD-${100 + at}` } }));
    for (const [at, text] of logs.entries()) await drop(root, `${100 + at}.csv`, text);
    const newcomer = faceLog({ header: { job: "TODAY" } });
    let ticks = 0;
    const quick = quickEffects();
    const effects = {
      ...quick,
      ticks: () => ticks,
      sleep: async (ms: number) => {
        ticks += ms;
      },
    };
    const done: string[] = [];
    const workspace = await openWorkspace(effects, root);
    await watch(effects, workspace, {
      once: true,
      signal: new AbortController().signal,
      printer: noBrowser,
      tell: (sentence) => {
        const [, job = ""] = /^(\S+)_10_seat_r1: /.exec(sentence) ?? [];
        if (job === "") return;
        // Each revision takes a second on this clock; after the third somebody drops another log.
        ticks += 1000;
        done.push(job);
        if (done.length === 3) writeFileSync(join(root, "inbox", "today.csv"), newcomer);
      },
    });
    expect(done).toHaveLength(61);
    // It has to rest a second, and a round works five seconds before it looks up.
    expect(done.indexOf("TODAY")).toBeLessThan(20);
    // The others keep their order.
    expect(done.filter((job) => job !== "TODAY")).toEqual(logs.map((_, at) => `OLD-${100 + at}`));
    await expectWhole(root, [...logs, newcomer]);
  }, 120_000);
});
