import type { Section } from "./contract.ts";

/** Lines for ink, what made the page, and its end. */
export const signatures: Section = {
  name: "signatures",
  heading: (page) => page.texts.signatures.heading,
  view: (page) => {
    const { report, texts } = page;
    const words = texts.signatures;
    return {
      text: words,
      rows: [words.measured, words.checked, words.approved],
      generator: page.text(words.generator, {
        name: page.name(report.generator.name),
        version: page.name(report.generator.version),
        plan: page.name(report.plan.name),
        sha256: page.name(report.plan.sha256),
      }),
      itemsOnly: texts.itemsOnly,
      end: page.text(texts.endMark, {
        id: page.name(report.report.id),
        revision: String(report.report.revision),
      }),
    };
  },
};
