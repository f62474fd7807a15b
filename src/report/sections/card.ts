import type { PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";

const MOST_LINES = 5;
/** A line longer than this is set smaller, so that the card stays one glance. */
const LONG_LINE = 78;

/** The next move, readable at arm's length: at most five lines. */
export const card: Section = {
  name: "card",
  heading: (page) => page.texts.card.heading,
  view: (page) => {
    const lines = cardLines(page).slice(0, MOST_LINES).map(page.say);
    return {
      lines: lines.map((text) => ({ text, long: text.length > LONG_LINE })),
      several: lines.length > 1,
    };
  },
};

function cardLines({ report, texts }: PageContext): readonly string[] {
  if (report.card !== undefined && report.card.length > 0) return report.card;
  const advised = report.advice.filter((advice) => advice.status === "advised");
  if (advised.length > 0) return advised.map((advice) => advice.headline);
  const waiting = report.advice.map((advice) => advice.headline);
  return waiting.length > 0 ? [texts.card.undecided, ...waiting] : [texts.card.nothing];
}
