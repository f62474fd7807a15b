import type { ReportFeature, SetupReport, Verdict } from "../../src/model/setupReport.ts";
import { report } from "./fixtures.ts";

const VERDICTS: readonly Verdict[] = ["pass", "pass", "pass", "undecided", "pass", "fail", "pass", "missing"];

/** A setup of 200 characteristics on 60 features, 40 logs and 300 readings left out. */
export function longSetup(): SetupReport {
  const kinds = Object.values(report.features);
  const names = Array.from({ length: 60 }, (_, index) => `feature-${index}`);
  const features = Object.fromEntries(
    names.map((name, index): [string, ReportFeature] => {
      const feature = kinds[index % kinds.length];
      if (feature === undefined) throw new Error("no feature");
      return [name, feature];
    }),
  );
  const characteristics = Array.from({ length: 200 }, (_, index) => {
    const entry = report.characteristics[index % report.characteristics.length];
    const verdict = VERDICTS[index % VERDICTS.length];
    if (entry === undefined || verdict === undefined) throw new Error("no characteristic");
    return { ...entry, id: `char-${index}`, of: names[index % names.length] ?? "", verdict };
  });
  const counts = { pass: 0, fail: 0, undecided: 0, missing: 0 };
  for (const { verdict } of characteristics) counts[verdict] += 1;
  const logs = Array.from({ length: 40 }, (_, index) => {
    const log = report.logs[index % report.logs.length];
    if (log === undefined) throw new Error("no log");
    return {
      ...log,
      name: `log-${index}.csv`,
      excluded: Array.from({ length: 8 }, (_unused, row) => ({ line: row + 9, reason: "z is not a number" })),
    };
  });
  return { ...report, verdict: "fail", counts, features, characteristics, logs };
}
