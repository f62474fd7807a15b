import type { SetupReport } from "../model/setupReport.ts";
import { csvText } from "./csv.ts";

const HEAD = [
  "report",
  "revision",
  "job",
  "operation",
  "source",
  "id",
  "kind",
  "of",
  "to",
  "value",
  "unit",
  "uncertainty",
  "coverage",
  "lower",
  "upper",
  "as found",
  "points",
  "verdict",
  "because",
];

/**
 * The results of a report as one flat table, safe against formulas: each characteristic, then each sign-off. Numbers are as in
 * the record, lengths in mm and angles in degrees.
 */
export function reportCsv(report: SetupReport): string {
  const { id, revision } = report.report;
  const start = [id, revision, report.setup.job ?? null, report.setup.operation ?? null];
  const characteristics = report.characteristics.map((entry) => [
    ...start,
    "characteristic",
    entry.id,
    entry.kind,
    typeof entry.of === "string" ? entry.of : entry.of.join(" "),
    entry.to,
    entry.value,
    entry.unit,
    entry.uncertainty,
    entry.coverage,
    entry.limits.lower,
    entry.limits.upper,
    entry.asFound,
    entry.points,
    entry.verdict,
    entry.because,
  ]);
  const signOffs = report.signOffs.map((entry) => [
    ...start,
    "sign-off",
    entry.id,
    null,
    null,
    null,
    entry.value,
    entry.unit,
    null,
    null,
    entry.limits.lower,
    entry.limits.upper,
    null,
    null,
    entry.verdict,
    entry.because,
  ]);
  return csvText([HEAD, ...characteristics, ...signOffs]);
}
