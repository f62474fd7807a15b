import { durableEffects } from "../../records/durableEffects.ts";
import { attachReport } from "../../records/jobRecord.ts";
import { openWorkspace } from "../../records/workspace.ts";
import { workspaceAround } from "../../records/workspaceAround.ts";
import { print, safe } from "../output.ts";

export interface AttachOptions {
  readonly job: string;
  readonly workspace?: string;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth attach`: a report into the record of its job. */
export async function attach(path: string, options: AttachOptions): Promise<void> {
  const effects = durableEffects();
  const { paths } = await openWorkspace(
    effects,
    options.workspace ?? (await workspaceAround(effects, path)) ?? undefined,
  );
  const { folder, report, status } = await attachReport(effects, {
    records: paths.records,
    path,
    job: options.job,
  });
  if (options.json) print(JSON.stringify({ folder, status, ...report }, null, 1));
  else if (!options.quiet) {
    const word = status === "kept" ? "was attached before, nothing changed" : "attached";
    print(
      safe(
        `${report.id} revision ${report.revision} (${report.verdict}): ${word}\n${report.files.map((file) => `  ${folder}/${file.name}`).join("\n")}`,
      ),
    );
  }
}
