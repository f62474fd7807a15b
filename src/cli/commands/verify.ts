import { basename } from "node:path";
import type { DurableEffects } from "../../model/effects.ts";
import { entryWords } from "../../model/entry.ts";
import type { SetupReport } from "../../model/setupReport.ts";
import { diskEffects } from "../../records/diskEffects.ts";
import { durableEffects } from "../../records/durableEffects.ts";
import { allRecords, Entries } from "../../records/entries.ts";
import { knownFile } from "../../records/jobRecord.ts";
import { read, readLogs, sha256Of } from "../../records/readLogs.ts";
import { type FileVerification, verifyFile } from "../../records/verifyFile.ts";
import { openWorkspace, workspacePaths } from "../../records/workspace.ts";
import { workspaceAround } from "../../records/workspaceAround.ts";
import { EXIT } from "../errors.ts";
import { print, printStyle, safe } from "../output.ts";

export interface VerifyOptions {
  readonly log?: readonly string[];
  readonly workspace?: string;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth verify`: recomputes a report from what it encloses and says whether it belongs together. */
export async function verify(path: string, options: VerifyOptions): Promise<void> {
  const effects = diskEffects();
  const bytes = await read(effects, path);
  const logs = options.log === undefined ? [] : await readLogs(effects, options.log);
  const result = await compareWithRecord(
    path,
    sha256Of(bytes),
    await verifyFile(bytes, logs),
    options.workspace,
  );
  const sentences =
    result.ok === true ? result.proved : [result.ok === null ? result.sentence : result.because];
  const word = result.ok === true ? "ACCEPTED" : result.ok === null ? "NOT TOLD" : "REFUSED";
  if (options.json)
    print(
      JSON.stringify(
        {
          file: path,
          sha256: sha256Of(bytes),
          accepted: result.ok,
          report: result.ok === true ? factsOf(result.fresh) : null,
          because: sentences,
        },
        null,
        1,
      ),
    );
  else if (!options.quiet || result.ok !== true) {
    const { inverse } = printStyle();
    const lines = [...sentences.map((sentence) => `  ${sentence}`), `  SHA-256 ${sha256Of(bytes)}`];
    if (result.ok === true) lines.push(NOT_PROVED);
    const what = result.ok === true ? `${factsInWords(result.fresh)}  (${path})` : path;
    print([`${inverse(` ${word} `)}  ${safe(what)}`, safe(lines.join("\n"))].join("\n"));
  }
  process.exitCode = result.ok === true ? EXIT.done : result.ok === null ? EXIT.unreachable : EXIT.rejected;
}

const NOT_PROVED =
  "  This proves that report, logs and plan belong together, not who made them; the time of issue and the pictures on the page are not recomputed.";

/** Which report it is that was accepted: a file may bear any name. */
const factsOf = ({ report: { id, revision }, verdict, setup }: SetupReport) => ({
  id,
  revision,
  verdict,
  job: setup.job?.trim() || null,
});
function factsInWords(report: SetupReport): string {
  const { id, revision, verdict, job } = factsOf(report);
  return `${id} r${revision}: ${verdict}${job === null ? "" : `, job ${job}`}`;
}

/** An accepted file whose name stands in a job record must have the hash that the record states. */
async function compareWithRecord(
  path: string,
  sha256: string,
  result: FileVerification,
  workspace: string | undefined,
): Promise<FileVerification> {
  if (result.ok !== true) return result;
  const effects = durableEffects();
  const around = workspace === undefined ? await workspaceAround(effects, path) : null;
  const records =
    workspace !== undefined
      ? (await openWorkspace(effects, workspace)).paths.records
      : around && workspacePaths(around).records;
  if (records === null) return result;
  const said = await saidOf(effects, records, result.fresh);
  const known = await knownFile(effects, records, basename(path), sha256);
  if (known === null) return { ...result, proved: [...result.proved, ...said] };
  if (known.status === "other")
    return { ok: false, because: `the record of job ${known.job} states another hash for ${basename(path)}` };
  return {
    ...result,
    proved: [...result.proved, `its hash stands in the record of job ${known.job}`, ...said],
  };
}

/** What quality has added to the report: whole and sound is not the same as valid. */
async function saidOf(effects: DurableEffects, records: string, fresh: SetupReport): Promise<string[]> {
  const entries = new Entries((await allRecords(effects, records)).flatMap((record) => record.entries));
  return entries
    .of(fresh.report.id, fresh.report.revision)
    .map((entry) =>
      [
        entry.kind === "void" ? "BUT IT IS VOID" : `its record adds: ${entryWords(entry)}`,
        ` (${entry.who}, ${entry.made}: ${entry.why})`,
      ].join(""),
    );
}
