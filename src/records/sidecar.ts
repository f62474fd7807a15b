import type { SetupReport } from "../model/setupReport.ts";

/** A file beside the sidecar. */
export interface SidecarFile {
  readonly name: string;
  readonly sha256: string;
}

/** A few flat keys that another system can read without knowing reports. */
export function sidecar(
  report: SetupReport,
  job: string | null,
  files: readonly SidecarFile[],
): Readonly<Record<string, string | number | null>> {
  const { id, revision, issued } = report.report;
  const named = Object.fromEntries(
    files.flatMap(({ name, sha256 }) => [
      [name.split(".").at(-1) ?? name, name],
      [`${name.split(".").at(-1)}-sha256`, sha256],
    ]),
  );
  const flat = {
    job,
    ...report.setup,
    report: id,
    revision,
    issued,
    verdict: report.verdict,
    ...report.counts,
    plan: report.plan.name,
    title: report.plan.title,
    ...named,
  };
  // A header may state another job, or none: the one it hangs on counts.
  return { ...flat, job };
}
