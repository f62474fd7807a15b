import { mkdtempSync, readdirSync, rmSync, statSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

const PREFIX = "plinth-browser-";
const HOUR_MS = 3_600_000;

/** Removes profile folders older than an hour whose process has ended: a killed process cannot clean up. */
function removeLeftovers(): void {
  for (const name of readdirSync(tmpdir())) {
    const processId = new RegExp(`^${PREFIX}(\\d+)-`).exec(name)?.[1];
    if (processId === undefined) continue;
    const path = join(tmpdir(), name);
    try {
      const about = statSync(path);
      if (about.uid !== (process.getuid?.() ?? about.uid) || Date.now() - about.mtimeMs < HOUR_MS) continue;
      process.kill(Number(processId), 0);
    } catch (error) {
      const ended = error instanceof Error && "code" in error && error.code === "ESRCH";
      if (ended) removeProfile(path);
    }
  }
}

/** Makes a folder for everything one browser writes. @returns its absolute path */
export function makeProfile(): string {
  removeLeftovers();
  return mkdtempSync(join(tmpdir(), `${PREFIX}${process.pid}-`));
}

/** Removes a profile folder; a file that is still held open is tried again for a moment, then left to the next start. */
export function removeProfile(folder: string): void {
  try {
    rmSync(folder, { recursive: true, force: true, maxRetries: 3, retryDelay: 50 });
  } catch {
    // Left for the next start.
  }
}

function escapeXml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

/**
 * Writes the font settings of the bundled browser. Without any font file text is left out of a page with no error
 * at all, so its own fonts come first; the machine's fonts only add scripts which those lack.
 * @returns the folder to be named in FONTCONFIG_PATH
 */
export async function writeFontSettings(profile: string, fonts: string): Promise<string> {
  const folder = join(profile, "fonts");
  const cache = join(dirname(fonts), "font-cache");
  const first = ["sans-serif", "serif", "monospace", "system-ui"].map(
    (name) =>
      `<alias binding="strong"><family>${name}</family><prefer><family>Open Sans</family></prefer></alias>`,
  );
  const lines = [
    '<?xml version="1.0"?>',
    '<!DOCTYPE fontconfig SYSTEM "fonts.dtd">',
    "<fontconfig>",
    `<dir>${escapeXml(fonts)}</dir>`,
    "<dir>/usr/share/fonts</dir>",
    "<dir>/usr/local/share/fonts</dir>",
    ...first,
    `<cachedir>${escapeXml(cache)}</cachedir>`,
    `<cachedir>${escapeXml(join(folder, "cache"))}</cachedir>`,
    "</fontconfig>",
  ];
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "fonts.conf"), `${lines.join("\n")}\n`);
  return folder;
}
