import type { Finding, Level } from "../../model/finding.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";
import { firstOf } from "./shared.ts";

const ORDER: readonly Level[] = ["error", "warning", "note"];
const MOST = 200;

/** What was noticed about data and results, the gravest first. */
export const findings: Section = {
  name: "findings",
  heading: (page) => page.texts.findings.heading,
  view: (page) => {
    const { report, texts } = page;
    const sorted = ORDER.flatMap((level) => report.findings.filter((finding) => finding.level === level));
    const { shown, more } = firstOf(sorted, MOST, page);
    return {
      text: texts.findings,
      empty: sorted.length === 0 ? texts.findings.empty : null,
      more,
      rows: shown.map((finding) => ({
        level: texts.levels[finding.level],
        grave: finding.level === "error",
        code: page.name(finding.code),
        says: page.say(finding.text),
        hint: finding.hint === undefined ? null : page.say(finding.hint),
        place: placeOf(finding, page),
      })),
    };
  },
};

function placeOf(finding: Finding, page: PageContext): string {
  const { line, cell } = page.texts.findings;
  return [
    finding.log === undefined ? "" : page.name(finding.log),
    finding.line === undefined ? "" : page.text(line, { line: String(finding.line) }),
    finding.column === undefined ? "" : page.text(cell, { column: String(finding.column) }),
    finding.feature === undefined ? "" : page.name(finding.feature),
    finding.characteristic === undefined ? "" : page.name(finding.characteristic),
  ]
    .filter((part) => part !== "")
    .join(", ");
}
