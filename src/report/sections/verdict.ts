import type { Verdict } from "../../model/setupReport.ts";
import type { Section } from "./contract.ts";
import { verdictView } from "./shared.ts";

const ORDER: readonly Verdict[] = ["fail", "missing", "undecided", "pass"];

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
      sentence: judged === 0 ? texts.verdict.empty : texts.verdict.sentences[report.verdict],
      counts: ORDER.map((one) => ({ ...verdictView(one, page), count: report.counts[one] })),
    };
  },
};
