import { spawnSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { brotliCompressSync } from "node:zlib";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { unpackBrowser } from "../../src/report/print/bundledBrowser.ts";

let folder = "";
let cache = "";
const VERSION = "1.2.3";

function tar(path: string, text: string): Buffer {
  const block = Buffer.alloc(512);
  block.write(path, 0);
  block.write(`${text.length.toString(8).padStart(11, "0")}\0`, 124);
  block.write("0", 156);
  block.fill(32, 148, 156);
  const sum = block.reduce((total, byte) => total + byte, 0);
  block.write(`${sum.toString(8).padStart(6, "0")}\0 `, 148);
  const body = Buffer.alloc(Math.ceil(text.length / 512) * 512);
  body.write(text);
  return Buffer.concat([block, body, Buffer.alloc(1024)]);
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "plinth-unpack-"));
  cache = join(folder, "cache");
  const bin = join(folder, "package/bin");
  mkdirSync(bin, { recursive: true });
  writeFileSync(join(bin, "chromium.br"), brotliCompressSync("#!/bin/sh\necho started\n"));
  writeFileSync(join(bin, "al2023.tar.br"), brotliCompressSync(tar("lib/libone.so", "library")));
  writeFileSync(join(bin, "fonts.tar.br"), brotliCompressSync(tar("fonts/Face.ttf", "font")));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const from = () => ({ folder: join(folder, "package"), version: VERSION });

describe("unpacking the bundled browser", () => {
  it("gives a program that can be run, its libraries and its fonts, in a folder of that version", async () => {
    const found = await unpackBrowser(from(), [cache]);
    expect(found.executable).toBe(join(cache, `browser-${VERSION}`, "chromium"));
    expect(spawnSync(found.executable, { encoding: "utf8" }).stdout).toBe("started\n");
    expect(existsSync(join(found.libraryFolder, "libone.so"))).toBe(true);
    expect(existsSync(join(found.fontFolder, "Face.ttf"))).toBe(true);
    expect(readdirSync(cache)).toEqual([`browser-${VERSION}`]);
  });

  it("unpacks once, and again when a file is missing or cut short", async () => {
    const { executable, fontFolder } = await unpackBrowser(from(), [cache]);
    const first = statSync(executable).ino;
    await unpackBrowser(from(), [cache]);
    expect(statSync(executable).ino).toBe(first);
    writeFileSync(executable, "#!/bin/sh\n");
    await unpackBrowser(from(), [cache]);
    expect(spawnSync(executable, { encoding: "utf8" }).stdout).toBe("started\n");
    rmSync(fontFolder, { recursive: true });
    await unpackBrowser(from(), [cache]);
    expect(existsSync(join(fontFolder, "Face.ttf"))).toBe(true);
    expect(readdirSync(cache)).toEqual([`browser-${VERSION}`]);
  });

  it("removes what a killed process left, but not what a running one is writing", async () => {
    await unpackBrowser(from(), [cache]);
    rmSync(join(cache, `browser-${VERSION}`), { recursive: true });
    const ended = spawnSync(process.execPath, ["-e", ""]).pid;
    const { createHash } = await import("node:crypto");
    const { hostname } = await import("node:os");
    const host = createHash("sha256").update(hostname()).digest("hex").slice(0, 8);
    const left = [
      `.unpack-${host}-${ended}-aa`,
      `.unpack-${host}-${process.pid}-bb`,
      ".unpack-00000000-1-cc",
      ".unpack-00000000-1-dd",
    ];
    for (const name of left) mkdirSync(join(cache, name));
    utimesSync(join(cache, left[3]!), 1e9, 1e9);
    await unpackBrowser(from(), [cache]);
    expect(readdirSync(cache).sort()).toEqual([left[2], left[1], `browser-${VERSION}`].sort());
  });

  it("goes on to the next folder, and names every folder when none will do", async () => {
    const file = join(folder, "file");
    writeFileSync(file, "");
    const blocked = join(file, "cache");
    const found = await unpackBrowser(from(), [blocked, cache]);
    expect(found.executable.startsWith(cache)).toBe(true);
    await expect(unpackBrowser({ ...from(), version: "2" }, [blocked, join(file, "b")])).rejects.toThrow(
      /file.cache: .*; .*file.b: /s,
    );
  });

  it("does not unpack into a folder that anybody may change", async () => {
    mkdirSync(cache);
    chmodSync(cache, 0o777);
    await expect(unpackBrowser(from(), [cache])).rejects.toThrow(/other users can change/);
  });

  it("leaves nothing behind when an archive is damaged", async () => {
    writeFileSync(join(folder, "package/bin/fonts.tar.br"), "not an archive");
    await expect(unpackBrowser(from(), [cache])).rejects.toThrow();
    expect(readdirSync(cache)).toEqual([]);
  });

  it("is safe for many at once", async () => {
    const all = await Promise.all(Array.from({ length: 6 }, () => unpackBrowser(from(), [cache])));
    expect(new Set(all.map(({ executable }) => executable)).size).toBe(1);
    expect(spawnSync(all[0]!.executable, { encoding: "utf8" }).stdout).toBe("started\n");
    expect(readdirSync(cache)).toEqual([`browser-${VERSION}`]);
  });
});
