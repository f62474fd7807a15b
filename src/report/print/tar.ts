const BLOCK = 512;

/** One file of an archive: its path inside the archive and its bytes (a view, not a copy). */
export interface TarFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

function text(block: Uint8Array, start: number, length: number): string {
  const field = block.subarray(start, start + length);
  const end = field.indexOf(0);
  return new TextDecoder().decode(end < 0 ? field : field.subarray(0, end));
}

function octal(block: Uint8Array, start: number, length: number): number {
  const digits = text(block, start, length).trim();
  if (!/^[0-7]+$/.test(digits)) throw new Error("a number in the archive's headers cannot be read");
  return Number.parseInt(digits, 8);
}

function checkSum(block: Uint8Array): number {
  // The eight bytes of the sum itself count as blanks.
  return block.reduce((sum, byte, at) => sum + (at >= 148 && at < 156 ? 32 : byte), 0);
}

function safePath(block: Uint8Array): string {
  const prefix = text(block, 257, 5) === "ustar" ? text(block, 345, 155) : "";
  const path = prefix === "" ? text(block, 0, 100) : `${prefix}/${text(block, 0, 100)}`;
  const parts = path.split(/[/\\]/);
  if (path === "" || path.startsWith("/") || parts.includes("..") || path.includes(":")) {
    throw new Error(`the archive names a path outside its folder: ${path}`);
  }
  return path;
}

/**
 * Reads the plain files of a tar archive; folders follow from the paths, links and devices are left out.
 * @param archive the whole archive, not compressed
 * @returns the files in the archive's order
 * @throws Error when a header is damaged, the archive ends early or a path leaves its folder
 * Source: POSIX.1-2017, pax, "ustar Interchange Format".
 */
export function readTar(archive: Uint8Array): TarFile[] {
  const files: TarFile[] = [];
  for (let at = 0; ; ) {
    const block = archive.subarray(at, at + BLOCK);
    if (block.length < BLOCK) throw new Error("the archive ends before its end mark");
    if (block.every((byte) => byte === 0)) return files;
    if (octal(block, 148, 8) !== checkSum(block)) throw new Error("a header of the archive is damaged");
    const size = octal(block, 124, 12);
    const start = at + BLOCK;
    if (start + size > archive.length) throw new Error("the archive ends in the middle of a file");
    const kind = text(block, 156, 1);
    if (kind === "" || kind === "0") {
      files.push({ path: safePath(block), bytes: archive.subarray(start, start + size) });
    }
    at = start + Math.ceil(size / BLOCK) * BLOCK;
  }
}
