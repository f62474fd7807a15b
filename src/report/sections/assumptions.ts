import type { Section } from "./contract.ts";

/** What the results rest on, whatever they are; what was said beside single results stands with them. */
export const assumptions: Section = {
  name: "assumptions",
  heading: (page) => page.texts.assumptions.heading,
  view: (page) => ({ lines: Object.values(page.texts.assumptions.list) }),
};
