import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

export interface SmallReport {
  readonly id: string;
  readonly revision?: number;
  readonly issued?: string;
  readonly verdict?: string;
  readonly counts?: Readonly<Record<string, number>>;
  readonly setup?: Readonly<Record<string, unknown>>;
  readonly title?: string;
  readonly plan?: string;
  readonly characteristics?: readonly unknown[];
  readonly pages?: readonly string[];
}
/** Writes what a board reads of a report, with empty pages beside it; gives the file's name without ending. */
export function smallReport(folder: string, report: SmallReport): string {
  const { id, revision = 1, issued = "2026-11-25T07:00:00Z", verdict = "pass", pages = [] } = report;
  const name = `${id}_r${revision}`;
  mkdirSync(folder, { recursive: true });
  const text = JSON.stringify({
    schema: "plinth.setup-report/1",
    report: { id, revision, issued, replaces: revision > 1 ? revision - 1 : null },
    verdict,
    counts: { pass: 0, fail: 0, undecided: 0, missing: 0, [verdict]: 1, ...report.counts },
    setup: report.setup ?? {},
    plan: { name: report.plan ?? "seat", title: report.title ?? "Seat of a fixture" },
    characteristics: report.characteristics ?? [],
  });
  writeFileSync(join(folder, `${name}.json`), text);
  for (const ending of pages) writeFileSync(join(folder, `${name}.${ending}`), "<p>a page");
  return name;
}
/** A flatness at a share of its limit of 0.01 mm. */
export const flatness = (used: number) => ({
  id: "flat-0",
  value: used / 100,
  limits: { lower: null, upper: 0.01 },
});
