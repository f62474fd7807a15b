import { gunzipSync } from "node:zlib";
import type { ReportLog } from "../model/setupReport.ts";

/** The bytes of a log as the report encloses them; null when it is named by its hash only. */
export function decodeEnclosed(log: Pick<ReportLog, "text" | "gzip">): Uint8Array | null {
  if (log.text !== undefined) return new TextEncoder().encode(log.text);
  return log.gzip === undefined ? null : gunzipSync(Buffer.from(log.gzip, "base64"));
}
