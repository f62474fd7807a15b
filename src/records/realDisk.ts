import { Buffer } from "node:buffer";
import { realpath } from "node:fs";
import {
  appendFile,
  chmod,
  lstat,
  open,
  readdir,
  readFile,
  rename,
  rmdir,
  statfs,
  unlink,
} from "node:fs/promises";
import { join, sep } from "node:path";
import { promisify } from "node:util";
import type { Disk, DiskEntry } from "../model/effects.ts";
import { isSharedPath } from "./isSharedPath.ts";
import { makeFolder } from "./makeFolder.ts";

const READ_ONLY = 0o444;

/** The real disk, one system call or a few to a step. */
export function realDisk(): Disk {
  return {
    list,
    names: (folder) => readdir(folder),
    look: (path) => entryAt(path, path),
    read: (path) => readFile(path),
    create,
    append: (path, text) => appendFile(path, text),
    rename: (from, to) => rename(typeof from === "string" ? from : Buffer.from(from), to),
    remove: (path) => unlink(path),
    makeFolder,
    removeFolder: (path) => rmdir(path),
    syncFolder,
    setReadOnly: (path) => chmod(path, READ_ONLY),
    isShared,
  };
}

async function list(folder: string): Promise<DiskEntry[]> {
  const names = await readdir(folder, { encoding: "buffer" });
  const entries: DiskEntry[] = [];
  // One after the other: thousands of open requests at once gain nothing on a share.
  for (const raw of names) {
    const name = raw.toString("utf8");
    const whole = Buffer.from(name, "utf8").equals(raw);
    const path = whole ? join(folder, name) : Buffer.concat([Buffer.from(folder + sep), raw]);
    const entry = await entryAt(path, name);
    if (entry !== null) entries.push(typeof path === "string" ? entry : { ...entry, rawPath: path });
  }
  return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
}

async function entryAt(path: string | Buffer, name: string): Promise<DiskEntry | null> {
  try {
    const info = await lstat(path);
    const kind = info.isFile()
      ? "file"
      : info.isDirectory()
        ? "folder"
        : info.isSymbolicLink()
          ? "link"
          : "other";
    return { name, kind, size: info.size, modifiedMs: info.mtimeMs };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}

async function create(path: string, content: Uint8Array | string): Promise<void> {
  const file = await open(path, "wx");
  try {
    await file.writeFile(content);
    await file.sync();
  } finally {
    await file.close();
  }
}

async function syncFolder(path: string): Promise<void> {
  // Windows has no such call for folders; its renames are in the journal of the file system.
  if (process.platform === "win32") return;
  const folder = await open(path, "r");
  try {
    await folder.sync();
  } catch (error) {
    // Some shares refuse it: there the server decides.
    if (!["EINVAL", "ENOTSUP", "ENOSYS"].includes((error as NodeJS.ErrnoException).code ?? "")) throw error;
  } finally {
    await folder.close();
  }
}

async function isShared(path: string): Promise<boolean> {
  const { platform } = process;
  return isSharedPath({
    platform,
    path: platform === "win32" ? await realPath(path) : path,
    fileSystem: platform === "linux" ? (await statfs(path)).type : null,
  });
}
/** Follows drive letters to their shares. */
const realPath = promisify(realpath.native);
