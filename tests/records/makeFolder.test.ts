// Folders are made step by step, and what cannot be made ends with an error.
import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { makeFolder } from "../../src/records/makeFolder.ts";

const home = mkdtempSync(join(tmpdir(), "plinth-folder-"));
afterAll(() => rmSync(home, { recursive: true }));

describe("a folder", () => {
  it("is made with those above it, by two at once too, and is right when it is there", async () => {
    const path = join(home, "a", "b", "c");
    await Promise.all([makeFolder(path), makeFolder(path), makeFolder(join(home, "a", "b"))]);
    await makeFolder(path);
    expect(statSync(path).isDirectory()).toBe(true);
  });
  it("is no file, and lies below none", async () => {
    writeFileSync(join(home, "file"), "");
    await expect(makeFolder(join(home, "file"))).rejects.toMatchObject({ code: "EEXIST" });
    await expect(makeFolder(join(home, "file", "x"))).rejects.toMatchObject({ code: "ENOTDIR" });
  });
  it("that the system never lets be ends with an error", async () => {
    if (process.platform !== "linux") return;
    await expect(makeFolder("/proc/nothing/x")).rejects.toMatchObject({ code: "ENOENT" });
  });
});
