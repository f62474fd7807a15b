import { join } from "node:path";
import type { Kysely } from "kysely";
import type { DurableEffects } from "../model/effects.ts";
import { Trouble } from "../model/trouble.ts";
import type { TrustedReport } from "./jobRecord.ts";
import { chainOfReport, lastRevision, revisionHash } from "./ledger/chains.ts";
import type { Tables } from "./ledger/tables.ts";
import { read, sha256Of } from "./readLogs.ts";

/** Where a workspace keeps its reports, and its ledger where it has one. */
export interface OwnReports {
  readonly reports: string;
  readonly tables: Kysely<Tables> | null;
}

/**
 * Refuses a report file that is sound but not the one that the workspace has under its name: what quality says of it would
 * stand at a report that it is not about. A report that the workspace does not know at all is nobody's double.
 * Throws Trouble `rejected`.
 */
export async function refuseForeign(
  effects: DurableEffects,
  { reports, tables }: OwnReports,
  { path, report: { report }, sha256 }: TrustedReport,
): Promise<void> {
  const { id, revision } = report;
  const own = join(reports, `${id}_r${revision}.json`);
  const isThere = await effects.exists(own);
  if (isThere && sha256Of(await read(effects, own)) !== sha256) throw anotherFile(path, own);
  const chain = tables === null ? null : await chainOfReport(tables, id);
  if (tables === null || chain === null) return;
  const known = await revisionHash(tables, chain.id, revision);
  if (known !== null && known !== sha256) throw anotherFile(path, "the ledger");
  // A revision that the watcher has yet to make must not be void before it is there.
  if (known === null && !isThere)
    throw new Trouble(
      "rejected",
      `${path}: this workspace has ${id} up to revision ${await lastRevision(tables, chain.id)}, but no revision ${revision} of it; name a report of the workspace.`,
    );
}

/** A sentence for a file that bears the name of a report that is kept elsewhere with other content. */
export const anotherFile = (path: string, kept: string): Trouble =>
  new Trouble(
    "rejected",
    `${path}: it is not the report of this name and revision that the workspace has (${kept} has another one); name the workspace's own file.`,
  );
