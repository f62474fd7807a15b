import { plainNumber } from "../format.ts";
import type { Section } from "./contract.ts";

/** The rule by which a value becomes a verdict, in words. */
export const decision: Section = {
  name: "decision",
  heading: (page) => page.texts.decision.heading,
  view: (page) => {
    const { rule, guard, coverage } = page.report.decision;
    const words = page.texts.decision;
    const digits = (value: number): number => (Number.isInteger(value) ? 0 : 2);
    const guarded = page.text(words.guarded, {
      guard: plainNumber(guard, digits(guard), page.style),
      coverage: plainNumber(coverage, digits(coverage), page.style),
    });
    return {
      lines: [
        rule === "guarded" ? guarded : words.simple,
        ...(rule === "guarded" && guard === 1 ? [words.guardedRisk] : []),
        words.always,
        words.overall,
      ],
    };
  },
};
