import { gzipSync } from "node:zlib";
import { wholeOf } from "../ingest/logBytes.ts";
import type { LogFile, LogRecord } from "../model/measurement.ts";

const TEXT_LIMIT_BYTES = 1_000_000;
const ENCLOSE_LIMIT_BYTES = 8_000_000;

/**
 * The log itself for the JSON record: its text when it is UTF-8 and up to 1 MB, else gzip in base64 up to 8 MB, else
 * nothing: then the hash names it and the archive keeps it.
 */
export function encloseLog(file: LogFile, record: LogRecord): { text?: string; gzip?: string } {
  if (file.bytes.length > ENCLOSE_LIMIT_BYTES) return {};
  if (record.text !== null && file.bytes.length <= TEXT_LIMIT_BYTES) return { text: record.text };
  // A fixed header byte for the operating system keeps the same bytes on every machine.
  const packed = gzipSync(wholeOf(file), { level: 9 });
  packed[9] = 255;
  return { gzip: packed.toString("base64") };
}
