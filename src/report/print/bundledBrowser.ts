import { createHash, randomBytes } from "node:crypto";
import { createReadStream, createWriteStream, readFileSync } from "node:fs";
import { chmod, lstat, mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { hostname } from "node:os";
import { dirname, join } from "node:path";
import { pipeline } from "node:stream/promises";
import { promisify } from "node:util";
import { brotliDecompress, createBrotliDecompress } from "node:zlib";
import { readTar } from "./tar.ts";

const PACKAGE = "@sparticuz/chromium";
const MARK = "complete.json";
const PROGRAM = "chromium";
const HOUR_MS = 3_600_000;

/** The package that holds the browser's archives. */
export interface BrowserPackage {
  readonly folder: string;
  readonly version: string;
}

/** A browser unpacked and ready to start, with the two folders its process must be told about. */
export interface UnpackedBrowser {
  readonly executable: string;
  readonly version: string;
  readonly libraryFolder: string;
  readonly fontFolder: string;
}

/** @returns the installed package of the bundled browser, or undefined where it was left out */
export function bundledPackage(): BrowserPackage | undefined {
  try {
    let folder = dirname(createRequire(import.meta.url).resolve(PACKAGE));
    while (folder !== dirname(folder)) {
      const found = packageAt(folder);
      if (found) return found;
      folder = dirname(folder);
    }
  } catch {
    // It is an optional package.
  }
  return undefined;
}

function packageAt(folder: string): BrowserPackage | undefined {
  try {
    const about: unknown = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
    if (typeof about !== "object" || about === null || !("name" in about) || !("version" in about))
      return undefined;
    if (about.name !== PACKAGE || typeof about.version !== "string") return undefined;
    return { folder, version: about.version };
  } catch {
    return undefined;
  }
}

/** Which users' files may be run: in a shared folder another user could have put a program of the same name. */
async function isOurs(folder: string): Promise<boolean> {
  const about = await lstat(folder);
  if (!about.isDirectory()) return false;
  const user = process.getuid?.();
  if (user === undefined) return true;
  return (about.uid === user || about.uid === 0) && (about.mode & 0o022) === 0;
}

async function sizesUnder(folder: string, names: readonly string[]): Promise<Record<string, number>> {
  const sizes: Record<string, number> = {};
  for (const name of names) sizes[name] = (await stat(join(folder, name))).size;
  return sizes;
}

/** False when another user could swap what lies in the folder: it is his, or anybody may rename in it. */
async function isPrivate(cache: string): Promise<boolean> {
  const about = await lstat(cache);
  const user = process.getuid?.();
  if (user === undefined) return about.isDirectory();
  const anybody = (about.mode & 0o002) !== 0 && (about.mode & 0o1000) === 0;
  return about.isDirectory() && !anybody && (user === 0 || about.uid === user || about.uid === 0);
}

/** True when the folder holds every file at the size noted when it was unpacked. */
async function isComplete(folder: string): Promise<boolean> {
  try {
    if (!(await isOurs(folder))) return false;
    const noted: unknown = JSON.parse(await readFile(join(folder, MARK), "utf8"));
    if (typeof noted !== "object" || noted === null || !(PROGRAM in noted)) return false;
    const found = await sizesUnder(folder, Object.keys(noted));
    return Object.entries(noted).every(([name, size]) => found[name] === size);
  } catch {
    return false;
  }
}

function isRunning(processId: number): boolean {
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    return error instanceof Error && "code" in error && error.code === "EPERM";
  }
}

function hostTag(): string {
  return createHash("sha256").update(hostname()).digest("hex").slice(0, 8);
}

/** Removes what a killed process left half unpacked; a folder of a process that still runs is left alone. */
async function removeLeftovers(cache: string): Promise<void> {
  for (const name of await readdir(cache)) {
    const parts = /^\.unpack-([0-9a-f]{8})-(\d+)-[0-9a-f]+$/.exec(name);
    if (!parts) continue;
    const path = join(cache, name);
    const about = await stat(path).catch(() => undefined);
    if (!about) continue;
    // The process number says nothing when another host shares the folder.
    const ended = parts[1] === hostTag() && !isRunning(Number(parts[2]));
    if (ended || Date.now() - about.mtimeMs > HOUR_MS) await rm(path, { recursive: true, force: true });
  }
}

async function unpackArchive(archive: string, into: string): Promise<string[]> {
  const tar = await promisify(brotliDecompress)(await readFile(archive));
  const names: string[] = [];
  for (const file of readTar(tar)) {
    const target = join(into, file.path);
    await mkdir(dirname(target), { recursive: true });
    await writeFile(target, file.bytes);
    names.push(file.path);
  }
  return names;
}

async function unpackInto(folder: string, from: BrowserPackage): Promise<void> {
  const archives = join(from.folder, "bin");
  const program = join(folder, PROGRAM);
  await pipeline(
    createReadStream(join(archives, "chromium.br"), { highWaterMark: 1 << 20 }),
    createBrotliDecompress({ chunkSize: 1 << 20 }),
    createWriteStream(program),
  );
  await chmod(program, 0o755);
  const libraries = await unpackArchive(join(archives, "al2023.tar.br"), folder);
  const fonts = await unpackArchive(join(archives, "fonts.tar.br"), folder);
  const sizes = await sizesUnder(folder, [PROGRAM, ...libraries, ...fonts]);
  await writeFile(join(folder, MARK), JSON.stringify(sizes));
}

/** Puts the finished folder in its place; of several processes the first one wins and the others use its folder. */
async function putInPlace(temporary: string, final: string): Promise<void> {
  try {
    await rename(temporary, final);
    return;
  } catch (error) {
    if (await isComplete(final)) return;
    // What stands there is damaged: it is moved away, so that no process sees it half removed.
    const aside = `${temporary.replace(/-[0-9a-f]+$/, "")}-${randomBytes(6).toString("hex")}`;
    try {
      await rename(final, aside);
    } catch {
      throw error;
    }
    await rm(aside, { recursive: true, force: true });
  }
  try {
    await rename(temporary, final);
  } catch (error) {
    if (!(await isComplete(final))) throw error;
  }
}

async function unpack(cache: string, final: string, from: BrowserPackage): Promise<void> {
  await mkdir(cache, { recursive: true, mode: 0o700 });
  if (!(await isPrivate(cache))) throw new Error("other users can change what lies in it");
  await removeLeftovers(cache);
  const temporary = join(cache, `.unpack-${hostTag()}-${process.pid}-${randomBytes(6).toString("hex")}`);
  await mkdir(temporary, { mode: 0o755 });
  try {
    await unpackInto(temporary, from);
    await putInPlace(temporary, final);
  } finally {
    await rm(temporary, { recursive: true, force: true });
  }
}

/**
 * Unpacks the bundled browser once into the first of the folders that can hold it, and finds it there afterwards.
 * Safe for several processes at once: each unpacks beside and renames.
 * @param from the package with the archives
 * @param caches folders to look in and to unpack to, best first
 * @returns where the browser lies
 * @throws Error with a sentence for each folder when none of them can hold it
 */
export async function unpackBrowser(
  from: BrowserPackage,
  caches: readonly string[],
): Promise<UnpackedBrowser> {
  const name = `browser-${from.version}`;
  for (const cache of caches) {
    if (await isComplete(join(cache, name))) return describe(join(cache, name), from);
  }
  const troubles: string[] = [];
  for (const cache of caches) {
    try {
      await unpack(cache, join(cache, name), from);
      return describe(join(cache, name), from);
    } catch (error) {
      troubles.push(`${cache}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  throw new Error(troubles.join("; "));
}

function describe(folder: string, from: BrowserPackage): UnpackedBrowser {
  return {
    executable: join(folder, PROGRAM),
    version: from.version,
    libraryFolder: join(folder, "lib"),
    fontFolder: join(folder, "fonts"),
  };
}
