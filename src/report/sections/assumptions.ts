import type { Section } from "./contract.ts";

/** What the results rest on: what always holds, and what the analysis said beside single results. */
export const assumptions: Section = {
  name: "assumptions",
  heading: (page) => page.texts.assumptions.heading,
  view: (page) => {
    const { report, texts } = page;
    const remarks = report.characteristics.flatMap((entry) => entry.remarks);
    return {
      lines: Object.values(texts.assumptions.list),
      remarksLabel: texts.assumptions.remarks,
      remarks: [...new Set(remarks)].map((text) => page.say(text)),
    };
  },
};
