import type { Section } from "./contract.ts";
import { firstOf } from "./shared.ts";

const MOST = 300;

/** Every reading that was left out, with its place and reason. */
export const exclusions: Section = {
  name: "exclusions",
  heading: (page) => page.texts.exclusions.heading,
  view: (page) => {
    const { report, texts } = page;
    const all = report.logs.flatMap((log) => log.excluded.map((row) => ({ log: log.name, ...row })));
    const { shown, more } = firstOf(all, MOST, page);
    return {
      text: texts.exclusions,
      empty: all.length === 0 ? texts.exclusions.empty : null,
      more,
      rows: shown.map((row) => ({ file: page.name(row.log), line: row.line, reason: page.say(row.reason) })),
    };
  },
};
