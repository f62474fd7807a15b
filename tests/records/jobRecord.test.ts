// Reports hang on their job: attached whole, once, with what they replace; changed or foreign ones are refused.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { attachReport, type JobRecord, knownFile } from "../../src/records/jobRecord.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { writtenReport } from "./writtenReport.ts";

const effects = durableEffects();
let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "plinth-record-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

const written = (name: string, height: number, revision: number, job?: string): string =>
  writtenReport(folder, { name, height, revision, ...(job !== undefined && { header: { job } }) });
const records = (): string => join(folder, "records");
const manifest = (job = "K-1"): JobRecord =>
  JSON.parse(readFileSync(join(records(), job, "manifest.json"), "utf8")) as JobRecord;
const attach = (path: string, job = "K-1") => attachReport(effects, { records: records(), path, job });

describe("a job record", () => {
  it("holds the report, its pages, their hashes and a sidecar, and is the same when attached twice", async () => {
    const path = written("R", 0.002, 1);
    expect((await attach(path)).status).toBe("attached");
    const before = readFileSync(join(records(), "K-1", "manifest.json"));
    expect((await attach(path.replace(".json", ".html"))).status).toBe("kept");
    expect(readFileSync(join(records(), "K-1", "manifest.json"))).toEqual(before);
    expect(readdirSync(join(records(), "K-1")).sort()).toEqual([
      "R_r1.html",
      "R_r1.json",
      "R_r1.sidecar.json",
      "manifest.json",
    ]);
    const [entry] = manifest().reports;
    expect(entry).toMatchObject({ id: "K-1_10_seat", revision: 1, verdict: "pass", supersededBy: null });
    expect(entry?.files[0]?.sha256).toBe(sha256Of(readFileSync(path)));
    const sidecar = JSON.parse(readFileSync(join(records(), "K-1", "R_r1.sidecar.json"), "utf8"));
    expect(sidecar).toMatchObject({ job: "K-1", operation: "10", verdict: "pass", json: "R_r1.json" });
  });
  it("marks what a newer revision supersedes and removes nothing", async () => {
    await attach(written("R", 0.02, 2));
    await attach(written("R", 0.002, 1));
    expect(manifest().reports.map(({ revision, supersededBy }) => [revision, supersededBy])).toEqual([
      [1, 2],
      [2, null],
    ]);
    expect(readdirSync(join(records(), "K-1")).filter((name) => name.endsWith(".json"))).toContain(
      "R_r1.json",
    );
  });
  it("loses nothing when many attach at once", async () => {
    const paths = [1, 2, 3, 4, 5, 6].map((revision) => written("R", revision / 1000, revision));
    await Promise.all(paths.map((path) => attach(path)));
    expect(manifest().reports.map(({ revision }) => revision)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(readdirSync(join(records(), "K-1"))).not.toContain(".lock");
  });
  it("works again after a process died in the middle", async () => {
    await attach(written("R", 0.001, 1));
    // No process has this number: Linux counts to four million at most.
    writeFileSync(join(records(), "K-1", ".lock"), JSON.stringify({ pid: 2 ** 30 }));
    expect((await attach(written("R", 0.002, 2))).status).toBe("attached");
  });
  it("refuses a report that was changed, belongs to another job, or meets another of its name", async () => {
    const path = written("R", 0.002, 1);
    await attach(path);
    const text = readFileSync(path, "utf8");
    writeFileSync(path, text.replaceAll('"verdict": "pass"', '"verdict": "fail"'));
    await expect(attach(path)).rejects.toThrow(/refused, verdict: "fail" is stated, "pass" follows/);
    writeFileSync(path, text);
    await expect(attach(path, "K-2")).rejects.toThrow(/belongs to job K-1; attach it with --job K-1/);
    await expect(attach(written("R", 0.003, 1))).rejects.toThrow(
      /another file of this name is in the record already/,
    );
    expect(manifest().reports).toHaveLength(1);
  });
  it("keeps hostile job names inside the records folder", async () => {
    const job = "../../etc/x y";
    await attach(written("R", 0.001, 1, job), job);
    const [name = ""] = readdirSync(records());
    expect(name).toMatch(/^[A-Za-z0-9.-]+$/);
    expect(manifest(name).job).toBe(job);
  });
  it("adds nothing to the record of another job whose name this disk takes for the same", async () => {
    const path = written("R", 0.001, 1);
    await attach(path);
    const file = join(records(), "K-1", "manifest.json");
    // As a disk without upper and lower case would hand it out for K-1.
    writeFileSync(file, readFileSync(file, "utf8").replace('"job": "K-1"', '"job": "k-1"'));
    const before = readFileSync(file);
    await expect(attach(written("R", 0.002, 2))).rejects.toThrow(
      /this is the record of job k-1, and this disk takes both names for one/,
    );
    expect(readFileSync(file)).toEqual(before);
  });
  it("tells whether a file's hash stands in it", async () => {
    const path = written("R", 0.001, 1);
    await attach(path);
    const hash = sha256Of(readFileSync(path));
    expect(await knownFile(effects, records(), "R_r1.json", hash)).toEqual({ job: "K-1", status: "same" });
    expect(await knownFile(effects, records(), "R_r1.json", "0".repeat(64))).toEqual({
      job: "K-1",
      status: "other",
    });
    expect(await knownFile(effects, records(), "S_r1.json", hash)).toBeNull();
  });
});
