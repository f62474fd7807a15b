import type { LogFile } from "../model/measurement.ts";

/** Bytes `from` up to but not including `to` of a log, whichever way it is held. */
export function partOf({ bytes }: Pick<LogFile, "bytes">, from: number, to: number): Uint8Array {
  return bytes instanceof Uint8Array
    ? bytes.subarray(from, to)
    : bytes.part(from, Math.min(to, bytes.length));
}

/** All bytes of a log at once. */
export function wholeOf({ bytes }: Pick<LogFile, "bytes">): Uint8Array {
  return bytes instanceof Uint8Array ? bytes : bytes.part(0, bytes.length).slice();
}
