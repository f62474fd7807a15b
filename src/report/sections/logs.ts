import type { ReportLog } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section, View } from "./contract.ts";

/** Each log with its hash and how every open question about it was settled. */
export const logs: Section = {
  name: "logs",
  heading: (page) => page.texts.logs.heading,
  view: (page) => {
    const { report, texts } = page;
    return {
      text: texts.logs,
      empty: report.logs.length === 0 ? texts.logs.empty : null,
      entries: report.logs.map((log) => entryOf(log, page)),
      planName: page.name(report.plan.name),
      planHash: page.name(report.plan.sha256),
    };
  },
};

const entryOf = (log: ReportLog, page: PageContext): { [key: string]: View } => ({
  name: page.name(log.name),
  hash: page.name(log.sha256),
  kind: page.texts.logs.kinds[log.kind],
  rows: log.rows,
  used: log.used,
  excluded: log.excluded.length,
  decisions: log.decisions.map((decision) => ({
    what: page.name(decision.what),
    value: page.name(decision.value),
    because: page.say(decision.because),
  })),
  header: Object.entries(log.header).map(([key, value]) => ({
    key: page.name(key),
    value: page.name(value),
  })),
});
