import { readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { SetupReport } from "../../src/model/setupReport.ts";
import { diskEffects } from "../../src/records/diskEffects.ts";
import { makeReports } from "../../src/records/makeReports.ts";
import { readPlanFile } from "../../src/records/planFile.ts";
import { readLogs } from "../../src/records/readLogs.ts";

/** `tests/golden` as long as this file is not bundled. */
export const SAMPLES = fileURLToPath(new URL("../../sample-logs/", import.meta.url));
export const RECORDS = fileURLToPath(new URL("./records/", import.meta.url));
export const ISSUED = "2026-11-25T07:00:00Z";

export const cases = (samples: string): string[] => readdirSync(samples).sort();

/** The whole road for one case folder: plan and logs in, record out. */
export async function recordOf(folder: string): Promise<SetupReport> {
  const effects = diskEffects();
  const plan = await readPlanFile(effects, join(folder, "plan.yaml"));
  const { reports, rejected } = makeReports(await readLogs(effects, [folder]), { plan, issued: ISSUED });
  const [report] = reports;
  if (report === undefined || reports.length > 1 || rejected.length > 0)
    throw new Error(`${folder}: expected one report`);
  return report;
}

/** The record as it is kept: the version that made it is not part of what is compared. */
export const kept = (report: SetupReport): string =>
  `${JSON.stringify({ ...report, generator: { ...report.generator, version: "any" } }, null, 1)}\n`;
