import { mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect } from "vitest";
import type { DurableEffects } from "../../src/model/effects.ts";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { initWorkspace } from "../../src/records/initWorkspace.ts";
import { openLedger } from "../../src/records/ledger/openLedger.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { verifyReport } from "../../src/records/verify.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { type WatchOptions, type WatchResult, watch } from "../../src/runs/watch.ts";

const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true });
});
export async function temporaryFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "plinth-test-"));
  folders.push(folder);
  return folder;
}

export const PLAN = `plinth: 1
name: seat
title: Seat of a fixture
decision: {rule: guarded}
instruments:
  probe: {uncertainty: 0.001 mm}
logs: {unit: mm, instrument: probe, frame: work}
features:
  face-0: {fit: plane, normal: [0, 0, 1]}
  face-90: {fit: plane, normal: [0, 0, 1]}
characteristics:
  - {id: flat-0, kind: flatness, of: face-0, max: 0.02 mm}
  - {id: flat-90, kind: flatness, of: face-90, max: 0.02 mm}
sign-offs:
  - {id: stoned, ask: Seat stoned and wiped}
`;

/** A fresh workspace with one plan. */
export async function makeWorkspace(plan = PLAN, settings?: string): Promise<string> {
  const root = join(await temporaryFolder(), "shop");
  await initWorkspace(durableEffects(), root);
  for (const name of await readdir(join(root, "plans"))) await rm(join(root, "plans", name));
  await writeFile(join(root, "plans", "seat.yaml"), plan);
  if (settings !== undefined) await writeFile(join(root, "plinth.yaml"), settings);
  return root;
}

export interface FaceLog {
  readonly header?: Readonly<Record<string, string>>;
  readonly face?: string;
  readonly height?: number;
}
/** Nine touches on a face. */
export function faceLog({ header = {}, face = "face-0", height = 0 }: FaceLog = {}): string {
  const keys = { job: "J-1", operation: "10", plan: "seat", points: "surface", ...header };
  const lines = Object.entries(keys)
    .filter(([, value]) => value !== "")
    .map(([key, value]) => `# ${key}: ${value}`);
  const rows = [-100, 0, 100].flatMap((x) =>
    [-100, 0, 100].map((y) => `${face},${x}.000,${y}.000,${(height + ((x * 3 + y) % 7) / 1000).toFixed(4)}`),
  );
  return `${[...lines, "feature,x,y,z", ...rows].join("\n")}\n`;
}
export const drop = (root: string, name: string, content: string | Uint8Array): Promise<void> =>
  writeFile(join(root, "inbox", name), content);

/** Real disk, own clock: waiting costs nothing, so that a test may wait for hours. */
export function quickEffects(environment: Record<string, string> = {}): DurableEffects {
  const real = durableEffects();
  let ticks = 0;
  return {
    ...real,
    environment,
    ticks: () => ticks,
    async sleep(ms) {
      ticks += ms;
      await new Promise((resolve) => setImmediate(resolve));
    },
  };
}
export const noBrowser = () => ({
  print: async () => ({ sentence: "there is no browser here." }),
  close: async () => undefined,
});

export interface Told extends WatchResult {
  readonly told: readonly string[];
}
/** `watch --once` in this process. */
export async function drain(
  root: string,
  options: Partial<WatchOptions> & { readonly effects?: DurableEffects } = {},
): Promise<Told> {
  const { effects = quickEffects(), ...rest } = options;
  const told: string[] = [];
  const workspace = await openWorkspace(effects, root);
  const result = await watch(effects, workspace, {
    once: true,
    signal: new AbortController().signal,
    tell: (sentence) => told.push(sentence),
    printer: noBrowser,
    ...rest,
  });
  return { ...result, told };
}

export const namesIn = async (root: string, ...parts: string[]): Promise<string[]> =>
  (await readdir(join(root, ...parts))).sort();
export const reportOf = async (root: string, name: string): Promise<SetupReport> =>
  JSON.parse(await readFile(join(root, "reports", name), "utf8")) as SetupReport;

/** Everything below a folder as paths with `/`. */
export async function allFiles(root: string): Promise<string[]> {
  const entries = await readdir(root, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => !entry.isDirectory())
    .map((entry) => join(entry.parentPath, entry.name).slice(root.length + 1))
    .sort();
}

/**
 * What must hold in a workspace at rest, whatever happened before: each dropped log done once and whole, each revision whole and
 * in the ledger, nothing unfinished left.
 */
export async function expectWhole(root: string, dropped: readonly string[]): Promise<{ revisions: number }> {
  const files = await allFiles(root);
  expect(files.filter((file) => /\.tmp$|\.plinth\/work\/|watch\.lock/.test(file))).toEqual([]);
  expect(files.filter((file) => /^inbox\/(?!rejected)/.test(file))).toEqual([]);
  const ledger = await openLedger(join(root, "plinth.db"));
  try {
    const logs = await ledger.tables.selectFrom("log").selectAll().orderBy("sequence").execute();
    expect(logs.map((log) => log.sha256).sort()).toEqual(
      [...new Set(dropped.map((text) => sha256Of(text)))].sort(),
    );
    for (const log of logs) {
      expect(sha256Of(await readFile(join(root, log.archived)))).toBe(log.sha256);
      expect((await stat(join(root, log.archived))).mode & 0o222).toBe(0);
      const chains = await ledger.tables
        .selectFrom("revision_log")
        .innerJoin("revision", "revision.id", "revision_log.revision_id")
        .select("setup_id")
        .distinct()
        .where("sha256", "=", log.sha256)
        .execute();
      expect(chains).toEqual([{ setup_id: log.setup_id }]);
    }
    const archived = files.filter((file) => file.startsWith("archive/"));
    expect(archived).toEqual(logs.map((log) => log.archived).sort());
    const revisions = await ledger.tables.selectFrom("revision").selectAll().orderBy("base").execute();
    const written = files
      .filter((file) => /^reports\/.*\.json$/.test(file))
      .map((file) => file.replace(/\.json$/, ""));
    expect(written).toEqual(revisions.map((revision) => revision.base));
    for (const { base, json_sha256, revision } of revisions) {
      const json = await readFile(join(root, `${base}.json`));
      expect(sha256Of(json)).toBe(json_sha256);
      const report = JSON.parse(json.toString()) as SetupReport;
      expect(report.report.revision).toBe(revision);
      expect(verifyReport(report)).toMatchObject({ ok: true });
      expect((await readFile(join(root, `${base}.html`), "utf8")).trimEnd()).toMatch(/<\/html>$/);
    }
    for (const { id } of await ledger.tables.selectFrom("setup").select("id").execute()) {
      const current = await ledger.tables
        .selectFrom("log")
        .select("sha256")
        .where("setup_id", "=", id)
        .where("current", "=", 1)
        .execute();
      const newest = await ledger.tables
        .selectFrom("revision")
        .innerJoin("revision_log", "revision_log.revision_id", "revision.id")
        .select("sha256")
        .where("setup_id", "=", id)
        .where("revision", "=", (query) =>
          query
            .selectFrom("revision")
            .select((row) => row.fn.max("revision").as("last"))
            .where("setup_id", "=", id),
        )
        .execute();
      expect(newest.map((row) => row.sha256).sort()).toEqual(current.map((row) => row.sha256).sort());
    }
    return { revisions: revisions.length };
  } finally {
    await ledger.close();
  }
}
