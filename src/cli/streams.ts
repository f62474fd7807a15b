import { fstatSync, statSync, writeSync } from "node:fs";
import { EXIT, wordError } from "./errors.ts";

export type Output = "stdout" | "stderr";
const NUMBERS: Readonly<Record<Output, number>> = { stdout: 1, stderr: 2 };

/** Outputs that node's own streams write to; they take longer to load than a short answer takes to work out. */
const streamed = new Set<Output>();
/** Outputs that nobody reads any more, or that cannot be written to. */
const lost = new Set<Output>();

/** Writes text as it is. What cannot be written is dealt with once the work in hand has set the exit code. */
export function write(name: Output, text: string): void {
  if (lost.has(name)) return;
  // Consoles of Windows have an encoding of their own, which node's streams know.
  if (streamed.has(name) || process.platform === "win32") stream(name, text);
  else writeAtOnce(name, Buffer.from(text));
}

function writeAtOnce(name: Output, bytes: Buffer): void {
  let done = 0;
  try {
    while (done < bytes.length) done += writeSync(NUMBERS[name], bytes, done);
  } catch (error) {
    // The reader is slow and whoever made this pipe did not want to wait for it.
    if ((error as NodeJS.ErrnoException).code === "EAGAIN") stream(name, bytes.subarray(done));
    else failed(name, error as NodeJS.ErrnoException);
  }
}

function stream(name: Output, content: string | Uint8Array): void {
  if (!streamed.has(name)) process[name].on("error", (error) => failed(name, error));
  streamed.add(name);
  process[name].write(content);
}

/**
 * Ends quietly when the reader of an output goes away (`plinth check ... | head`): that is the reader's choice, and the exit
 * code that was reached stands. Any other trouble in writing, such as a full disk behind `>`, is told and exits 4.
 */
function failed(name: Output, error: NodeJS.ErrnoException): void {
  lost.add(name);
  process.nextTick(() => {
    if (error.code === "EPIPE") process.exit();
    if (name === "stdout")
      write("stderr", `${wordError(Object.assign(error, { path: "what was printed" }))}\n`);
    process.exit(EXIT.unreachable);
  });
}

/** Whether a person reads the output on a terminal. */
export function isTerminal(name: Output): boolean {
  if (process.platform === "win32") return process[name].isTTY === true;
  try {
    const { rdev } = statSync("/dev/null");
    const output = fstatSync(NUMBERS[name]);
    return output.isCharacterDevice() && output.rdev !== rdev;
  } catch {
    return false;
  }
}

/** Whether a line on it can be taken away again. */
export const takesEscapes = (name: Output): boolean => isTerminal(name) && process.env.TERM !== "dumb";

/** Ends where all is written, without waiting for code that is being made faster for a longer run. */
export function endAtOnce(): void {
  if (streamed.size === 0 && lost.size === 0) process.exit();
}
