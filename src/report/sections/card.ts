import type { PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";

const MOST_LINES = 5;
/** With a line longer than this the card is set smaller, so that it stays one glance. */
const LONG_LINE = 78;
/** No move needs more; the whole sentence stands with its advice. */
const MOST_LETTERS = 240;

/** The next move, readable at arm's length: at most five lines. */
export const card: Section = {
  name: "card",
  heading: (page) => page.texts.card.heading,
  view: (page) => {
    const lines = cardLines(page)
      .slice(0, MOST_LINES)
      .map((line) => page.say(line, { most: MOST_LETTERS }));
    return {
      lines,
      long: lines.some((line) => line.length > LONG_LINE),
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
