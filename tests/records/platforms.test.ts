// Paths and names of Windows and macOS, tried on any system with the path rules of each.
import { tmpdir } from "node:os";
import { posix, win32 } from "node:path";
import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import type { Disk, DurableEffects, Effects } from "../../src/model/effects.ts";
import { namePart, recordFolder, reportId } from "../../src/model/reportName.ts";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { isSharedPath } from "../../src/records/isSharedPath.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { realDisk } from "../../src/records/realDisk.ts";
import { placeReport, reportJson } from "../../src/records/reportStore.ts";
import { drain, drop, faceLog, makeWorkspace, namesIn } from "../runs/harness.ts";

describe("a share is known", () => {
  it.each([
    ["win32", "\\\\server\\shop\\plinth\\inbox", true],
    ["win32", "//server/shop/plinth/inbox", true],
    ["win32", "\\\\?\\UNC\\server\\shop\\inbox", true],
    ["win32", "\\\\?\\C:\\plinth\\inbox", false],
    ["win32", "\\\\.\\C:\\plinth", false],
    ["win32", "C:\\plinth\\inbox", false],
    ["darwin", "/Volumes/shop/inbox", true],
    ["darwin", "/net/server/shop/inbox", true],
    ["darwin", "/Users/shop/Volumes/inbox", false],
  ] as const)("on %s by its path: %s is %s", (platform, path, shared) => {
    expect(isSharedPath({ platform, path, fileSystem: null })).toBe(shared);
  });
  it.each([
    ["NFS", 0x6969, true],
    ["SMB", 0x517b, true],
    ["CIFS", 0xff534d42, true],
    // statfs gives it as a signed number on some systems.
    ["CIFS, signed", 0xff534d42 | 0, true],
    ["SMB2", 0xfe534d42, true],
    ["FUSE", 0x65735546, true],
    ["9p", 0x01021997, true],
    ["ext4", 0xef53, false],
    ["XFS", 0x58465342, false],
    ["Btrfs", 0x9123683e, false],
    ["tmpfs", 0x01021994, false],
    ["overlay", 0x794c7630, false],
  ] as const)("on Linux by its file system: %s", (_, fileSystem, shared) => {
    expect(isSharedPath({ platform: "linux", path: "/srv/inbox", fileSystem })).toBe(shared);
  });
  it("and this machine's own disk is none", async () => {
    expect(await realDisk().isShared(tmpdir())).toBe(false);
  });
});

describe("names", () => {
  const HOSTILE = [
    "CON",
    "con",
    "Aux.x",
    "NUL",
    "com1",
    "LPT9.csv",
    "K-1.",
    "K-1..",
    "...",
    ".",
    "..",
    "a:b",
    "a\\b",
    "a/b",
    "a b ",
    '*?<>|"',
    "ü",
    "\u202e",
    "x".repeat(300),
    "",
    " ",
  ];
  const fitsWindows = (name: string): void => {
    expect(name).toMatch(/^[A-Za-z0-9._-]+$/);
    expect(name).not.toMatch(/[. ]$|^\.+$/);
    expect(name.split(".")[0]).not.toMatch(/^(con|prn|aux|nul|com\d|lpt\d)$/i);
    expect(name.length).toBeLessThan(255);
    // One step below the folder, whichever rules join it.
    expect(win32.dirname(win32.join("\\\\server\\shop\\records", name))).toBe("\\\\server\\shop\\records");
    expect(posix.dirname(posix.join("/srv/records", name))).toBe("/srv/records");
  };
  it.each(HOSTILE)("of a job's folder hold on Windows too: %j", (job) => fitsWindows(recordFolder(job)));
  it("of jobs' folders never meet and are as they were where they may be", () => {
    expect(new Set(HOSTILE.map(recordFolder)).size).toBe(HOSTILE.length);
    expect(["K-0417", "j.7", "console", "com10"].map(recordFolder)).toEqual([
      "K-0417",
      "j.7",
      "console",
      "com10",
    ]);
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.string({ unit: "binary" }), (one, other) => {
        fitsWindows(recordFolder(one));
        if (one !== other) expect(recordFolder(one)).not.toBe(recordFolder(other));
      }),
    );
  });
  it("of reports are one file name on Windows: a device's name is none with what follows it", () => {
    for (const job of HOSTILE.filter((name) => !/^(aux|lpt9)\./i.test(name)))
      for (const ending of ["json", "sidecar.json", "html", "pdf"])
        fitsWindows(
          `${reportId({ job: job.slice(0, 50), operation: "CON" }, "aux").slice(0, 50)}_r1.${ending}`,
        );
    expect(namePart("face-0.csv")).toBe("face-0.csv");
  });
});

describe("on Windows", () => {
  afterEach(() => {
    vi.doUnmock("node:path");
    vi.resetModules();
  });
  /** A disk in memory whose paths are those of Windows. */
  function windowsDisk() {
    const files = new Map<string, Uint8Array>();
    const disk: Partial<Disk> = {
      look: async (path) => {
        const bytes = files.get(win32.normalize(path));
        const isFolder = [...files.keys()].some((file) => file.startsWith(`${win32.normalize(path)}\\`));
        if (bytes === undefined && !isFolder) return null;
        const name = win32.basename(path);
        return { name, kind: isFolder ? "folder" : "file", size: bytes?.length ?? 0, modifiedMs: 0 };
      },
      list: async (folder) => {
        const below = [...files.keys()].filter((file) => file.startsWith(`${win32.normalize(folder)}\\`));
        const names = new Set(
          below.map((file) => file.slice(win32.normalize(folder).length + 1).split("\\")[0] ?? ""),
        );
        const entries = await Promise.all([...names].map((name) => disk.look?.(`${folder}\\${name}`)));
        return entries.flatMap((entry) => entry ?? []);
      },
      setReadOnly: async () => undefined,
    };
    const effects = {
      disk,
      readFile: async (path: string) => files.get(win32.normalize(path)) ?? new Uint8Array(),
      writeFile: async (path: string, content: Uint8Array) => void files.set(win32.normalize(path), content),
      exists: async (path: string) => files.has(win32.normalize(path)),
    } as unknown as DurableEffects;
    return { files, effects };
  }
  it("the workspace lies on a share, and the ledger's paths stay the same on every system", async () => {
    vi.resetModules();
    vi.doMock("node:path", () => ({ ...win32, default: win32 }));
    const { workspacePaths } = await import("../../src/records/workspace.ts");
    const { archivedFiles, archivedLog, archiveLog } = await import("../../src/records/archive.ts");
    const paths = workspacePaths("\\\\server\\shop\\plinth");
    expect(paths.rejected).toBe("\\\\server\\shop\\plinth\\inbox\\rejected");
    expect(paths.lock).toBe("\\\\server\\shop\\plinth\\.plinth\\watch.lock");
    expect(paths.ledger).toBe("\\\\server\\shop\\plinth\\plinth.db");
    const { files, effects } = windowsDisk();
    const bytes = new TextEncoder().encode(faceLog());
    const file = { name: "face 0.csv", bytes, sha256: sha256Of(bytes) };
    const archived = await archiveLog(effects, paths, file, "2026-11-25");
    expect(archived).toMatch(/^archive\/2026\/11\/25\/[0-9a-f]{64}_face-0\.csv-[0-9a-f]{6}$/);
    expect([...files.keys()]).toEqual([`\\\\server\\shop\\plinth\\${archived.replaceAll("/", "\\")}`]);
    const log = { name: file.name, sha256: file.sha256, archived };
    expect((await archivedLog(effects, paths, log)).bytes).toEqual(bytes);
    expect(await archivedFiles(effects, paths)).toEqual([
      { sha256: file.sha256, archived, day: "2026-11-25" },
    ]);
  });
});

describe("on a disk without upper and lower case", () => {
  it("a report written by hand goes beside that of a job whose name differs in case only, never over it", async () => {
    const files = new Map<string, string>();
    const effects = {
      exists: async (path: string) =>
        path === "/reports" || [...files.keys()].some((name) => name.toLowerCase() === path.toLowerCase()),
      readFile: async (path: string) => {
        const found = [...files].find(([name]) => name.toLowerCase() === path.toLowerCase());
        return new TextEncoder().encode(found?.[1] ?? "");
      },
      listFolder: async () => [...files.keys()].map((path) => ({ name: posix.basename(path), kind: "file" })),
    } as unknown as Effects;
    const report = (job: string, hash: string) =>
      ({
        report: { id: `${job}_10_seat`, revision: 1, issued: "2026-11-25T07:00:00Z", replaces: null },
        setup: { job, operation: "10" },
        plan: { sha256: "p" },
        logs: [{ name: "a.csv", sha256: hash }],
      }) as unknown as SetupReport;
    const place = async (job: string, hash: string) => {
      const placed = await placeReport(effects, "/reports", report(job, hash));
      files.set(`${placed.base}.json`, reportJson(placed.report));
      return [posix.basename(placed.base), placed.report.report.replaces, placed.status];
    };
    const further = expect.stringMatching(/^k-1_10_seat_[0-9a-f]{6}_r1$/);
    expect(await place("K-1", "1")).toEqual(["K-1_10_seat_r1", null, "written"]);
    expect(await place("k-1", "2")).toEqual([further, null, "written"]);
    expect(await place("k-1", "2")).toEqual([further, null, "kept"]);
    expect(await place("k-1", "3")).toEqual([
      expect.stringMatching(/^k-1_10_seat_[0-9a-f]{6}_r2$/),
      1,
      "written",
    ]);
    expect(await place("K-1", "4")).toEqual(["K-1_10_seat_r2", 1, "written"]);
    expect(new Set([...files.keys()].map((name) => name.toLowerCase())).size).toBe(4);
  });

  it("two jobs that differ in case only have names that do not meet", async () => {
    const root = await makeWorkspace();
    await drop(root, "a.csv", faceLog({ header: { job: "K-1" } }));
    await drain(root);
    await drop(root, "b.csv", faceLog({ header: { job: "k-1" } }));
    await drain(root);
    const names = (await namesIn(root, "reports")).filter((name) => name.endsWith(".json"));
    expect(names).toEqual([
      "K-1_10_seat_r1.json",
      expect.stringMatching(/^k-1_10_seat_[0-9a-f]{6}_r1\.json$/),
    ]);
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(2);
  });
});
