import { halted, type Verdict } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";
import { firstOf, verdictView } from "./shared.ts";

const ORDER: readonly Verdict[] = ["fail", "missing", "undecided", "pass"];

/** A verdict that is not a pass says at once which entries it comes from. */
const MOST_NAMES = 4;
const NAME_LETTERS = 32;

/** The verdict by word, shape and tone, with the counts. */
export const verdict: Section = {
  name: "verdict",
  heading: () => null,
  view: (page) => {
    const { report, texts } = page;
    const judged = ORDER.reduce((sum, one) => sum + report.counts[one], 0);
    return {
      heading: texts.verdict.heading,
      ...verdictView(report.verdict, page),
      sentence: sentenceOf(judged, page),
      names: namesOf(report.verdict, page),
      counts: ORDER.map((one) => ({ ...verdictView(one, page), count: report.counts[one] })),
    };
  },
};

function sentenceOf(judged: number, { report, texts }: PageContext): string {
  if (halted(report)) return texts.verdict.halted;
  return judged === 0 ? texts.verdict.empty : texts.verdict.sentences[report.verdict];
}

function namesOf(verdict: Verdict, page: PageContext): string | null {
  if (verdict === "pass") return null;
  const { characteristics, signOffs } = page.report;
  const names = [...characteristics, ...signOffs]
    .filter((entry) => entry.verdict === verdict)
    .map((entry) => page.name(entry.id, { most: NAME_LETTERS }));
  const { shown, more } = firstOf(names, MOST_NAMES, page);
  return names.length === 0 ? null : shown.join(", ") + (more === null ? "" : ", \u2026");
}
