import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readTar } from "../../src/report/print/tar.ts";

function header(path: string, size: number, kind = "0", prefix = ""): Buffer {
  const block = Buffer.alloc(512);
  block.write(path, 0, "latin1");
  block.write("0000644\0", 100);
  block.write(`${size.toString(8).padStart(11, "0")}\0`, 124);
  block.write(kind, 156);
  block.write("ustar\0" + "00", 257);
  block.write(prefix, 345, "latin1");
  block.fill(32, 148, 156);
  const sum = block.reduce((total, byte) => total + byte, 0);
  block.write(`${sum.toString(8).padStart(6, "0")}\0 `, 148);
  return block;
}

function archive(
  ...parts: readonly (readonly [path: string, text: string, kind?: string, prefix?: string])[]
): Buffer {
  const blocks = parts.flatMap(([path, text, kind, prefix]) => {
    const body = Buffer.alloc(Math.ceil(text.length / 512) * 512);
    body.write(text, "latin1");
    return [header(path, text.length, kind, prefix), body];
  });
  return Buffer.concat([...blocks, Buffer.alloc(1024)]);
}

const textOf = (bytes: Uint8Array) => Buffer.from(bytes).toString("latin1");

describe("reading a tar archive", () => {
  it("gives files of every length with their bytes, and leaves out folders and links", () => {
    const long = "x".repeat(513);
    const files = readTar(
      archive(
        ["a", ""],
        ["dir/", "", "5"],
        ["dir/b", "y".repeat(512)],
        ["link", "", "2"],
        ["c", long, "0", "deep/er"],
      ),
    );
    expect(files.map(({ path, bytes }) => [path, bytes.length])).toEqual([
      ["a", 0],
      ["dir/b", 512],
      ["deep/er/c", 513],
    ]);
    expect(textOf(files[2]!.bytes)).toBe(long);
  });

  it.each([["../out"], ["/etc/out"], ["in/../../out"], ["..\\out"], ["C:out"]])(
    "refuses the path %s",
    (path) => {
      expect(() => readTar(archive([path, "x"]))).toThrow(/outside its folder/);
    },
  );

  it("refuses a damaged header and an archive that ends early", () => {
    const whole = archive(["a", "hello"]);
    const damaged = Buffer.from(whole);
    damaged.write("b", 0);
    expect(() => readTar(damaged)).toThrow(/damaged/);
    expect(() => readTar(whole.subarray(0, 512 + 3))).toThrow(/middle of a file/);
    expect(() => readTar(whole.subarray(0, 1024))).toThrow(/before its end mark/);
  });

  it("reads what the system's own tar writes", () => {
    const folder = mkdtempSync(join(tmpdir(), "plinth-tar-"));
    try {
      mkdirSync(join(folder, "in/sub"), { recursive: true });
      const bytes = Buffer.from(Array.from({ length: 3000 }, (_unused, at) => (at * 7) % 256));
      writeFileSync(join(folder, "in/sub/data"), bytes);
      execFileSync("tar", ["--format=ustar", "-cf", join(folder, "t.tar"), "-C", join(folder, "in"), "sub"]);
      const files = readTar(readFileSync(join(folder, "t.tar")));
      expect(files.map(({ path }) => path)).toEqual(["sub/data"]);
      expect(Buffer.from(files[0]!.bytes).equals(bytes)).toBe(true);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
