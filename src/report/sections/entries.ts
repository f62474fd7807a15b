import type { ReportEntry } from "../../model/entry.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";

/** What quality had said of earlier revisions when this one was made: dispositions, corrections of the header, voids. */
export const entries: Section = {
  name: "entries",
  heading: (page) => page.texts.entries.heading,
  view: ({ report, texts, ...page }) => {
    if (report.entries === undefined || report.entries.length === 0) return null;
    const context: PageContext = { report, texts, ...page };
    return {
      text: texts.entries,
      rows: report.entries.map((entry) => ({
        revision: String(entry.revision),
        made: page.name(entry.made),
        what: whatOf(entry, context),
        who: page.name(entry.who),
        why: page.name(entry.why),
      })),
    };
  },
};

function whatOf({ kind, decision, characteristic, corrected }: ReportEntry, page: PageContext): string {
  const words = page.texts.entries;
  if (kind === "correction")
    return Object.entries(corrected)
      .map(([key, value]) =>
        page.text(words.correction, { key: labelOf(key, page), value: page.name(value) }),
      )
      .join("; ");
  if (kind === "disposition" && decision !== null)
    return characteristic === null
      ? words.decisions[decision]
      : `${words.decisions[decision]} (${page.name(characteristic)})`;
  return words.void;
}
/** The header key as the first page names it. */
function labelOf(key: string, { texts, name }: PageContext): string {
  const labels: Readonly<Record<string, string>> = texts.identity.labels;
  return Object.hasOwn(labels, key) ? (labels[key] ?? "") : name(key);
}
