import { own } from "../pageContext.ts";
import type { Section } from "./contract.ts";

/** Header keys that the first page shows, in this order; every other key stands with its log. */
const KEYS = [
  "job",
  "operation",
  "setup",
  "part",
  "serial",
  "machine",
  "pallet",
  "fixture",
  "operator",
  "time",
] as const;

/** Who and what: the line that ties the page to its setup. */
export const identity: Section = {
  name: "identity",
  heading: () => null,
  view: (page) => {
    const { report, texts } = page;
    const entries = KEYS.flatMap((key) => {
      const value = own(report.setup, key);
      return value === undefined ? [] : [{ label: texts.identity.labels[key], value: page.name(value) }];
    });
    return {
      title: page.name(report.plan.title || report.plan.name) || texts.title,
      kind: texts.title,
      id: page.name(report.report.id),
      revision: page.text(texts.revision, { revision: String(report.report.revision) }),
      issuedLabel: texts.identity.issued,
      issued: page.name(report.report.issued),
      entries,
      replaces:
        report.report.replaces === null
          ? null
          : page.text(texts.replaces, { revision: String(report.report.replaces) }),
      superseded:
        page.supersededBy === null
          ? null
          : page.text(texts.superseded, { revision: String(page.supersededBy) }),
    };
  },
};
