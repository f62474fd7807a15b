import { basename, join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import type { OwedMessage } from "../model/message.ts";
import type { SetupReport } from "../model/setupReport.ts";
import type { Owed } from "../records/ledger/outbox.ts";
import { sha256Of } from "../records/readLogs.ts";
import { sidecar } from "../records/sidecar.ts";
import type { Workspace } from "../records/workspace.ts";
import type { Delivery, Parcel } from "./courier.ts";

/** A page larger than this is not sent; the HTML goes in place of a larger PDF. */
const MOST_PAGE_BYTES = 25_000_000;
const TYPES = { pdf: "application/pdf", html: "text/html; charset=utf-8" } as const;

/** The message as it is sent, from the files that were accepted; or how the try ends without them. Disk errors are thrown. */
export async function parcelOf(
  effects: DurableEffects,
  { paths }: Workspace,
  owed: Owed,
): Promise<Parcel | Delivery> {
  const { event, base, page, jsonSha256 } = JSON.parse(owed.message) as OwedMessage;
  const path = join(paths.root, base);
  const recordPath = `${path}.json`;
  if (!(await effects.exists(recordPath))) {
    const away = !(await effects.exists(paths.settings)) || !(await effects.exists(paths.reports));
    if (away) return { how: "again", because: "the workspace is not there", afterMs: 0 };
    return { how: "refused", because: `${base}.json is gone` };
  }
  const json = await effects.readFile(recordPath);
  if (sha256Of(json) !== jsonSha256)
    return event === "digest"
      ? { how: "again", because: `${base}.json is being made anew`, afterMs: 0 }
      : { how: "refused", because: `${base}.json was changed since it was accepted` };
  const shown = await pageOf(effects, path, page);
  if (shown === null) return { how: "refused", because: `${base}.${page} is gone or too large to be sent` };
  const name = basename(base);
  const hashes = [
    { name: `${name}.json`, sha256: jsonSha256 },
    { name: basename(shown.path), sha256: sha256Of(shown.bytes) },
  ];
  return {
    idempotencyKey: owed.key,
    event,
    sidecar:
      event === "digest"
        ? { name: `${name}.json`, bytes: json }
        : { name: `${name}.sidecar.json`, bytes: sidecarBytes(json, hashes) },
    page: { ...shown, name: basename(shown.path) },
    recordPath,
  };
}

function sidecarBytes(json: Uint8Array, files: Parameters<typeof sidecar>[2]): Uint8Array {
  const report = JSON.parse(new TextDecoder().decode(json)) as SetupReport;
  return new TextEncoder().encode(
    `${JSON.stringify(sidecar(report, report.setup.job ?? null, files), null, 1)}\n`,
  );
}

async function pageOf(effects: DurableEffects, path: string, wanted: "pdf" | "html") {
  for (const ending of wanted === "pdf" ? (["pdf", "html"] as const) : (["html"] as const)) {
    const entry = await effects.disk.look(`${path}.${ending}`);
    if (entry?.kind !== "file" || entry.size > MOST_PAGE_BYTES) continue;
    return {
      path: `${path}.${ending}`,
      type: TYPES[ending],
      bytes: await effects.readFile(`${path}.${ending}`),
    };
  }
  return null;
}
