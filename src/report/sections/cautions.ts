import type { Section } from "./contract.ts";

/** What every report warns of, whatever its numbers. */
export const cautions: Section = {
  name: "cautions",
  heading: (page) => page.texts.cautions.heading,
  view: (page) => ({ lines: Object.values(page.texts.cautions.list) }),
};
