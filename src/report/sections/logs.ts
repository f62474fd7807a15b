import type { ReportLog } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section, View } from "./contract.ts";

/** Each log with its hash; what their headers say and how every open question was settled, once for all logs that share it. */
export const logs: Section = {
  name: "logs",
  heading: (page) => page.texts.logs.heading,
  view: (page) => {
    const { report, texts } = page;
    return {
      text: texts.logs,
      empty: report.logs.length === 0 ? texts.logs.empty : null,
      rows: report.logs.map((log) => rowOf(log, page)),
      headers: shared(
        report.logs.map((log) =>
          Object.entries(log.header).map(([key, value]) => ({
            what: page.name(key),
            says: page.name(value),
          })),
        ),
        page,
      ),
      decisions: shared(
        report.logs.map((log) =>
          log.decisions.map(({ because, ...decision }) => {
            const { what, value } = settled(decision, page);
            return { what, says: `${value}: ${page.say(because)}` };
          }),
        ),
        page,
      ),
      planName: page.name(report.plan.name),
      planHash: page.name(report.plan.sha256),
    };
  },
};

const rowOf = (log: ReportLog, page: PageContext): { [key: string]: View } => ({
  name: page.name(log.name),
  hash: page.name(log.sha256),
  kind: page.texts.logs.kinds[log.kind],
  rows: log.rows,
  used: log.used,
  excluded: log.excluded.length,
});

interface Line {
  readonly what: string;
  readonly says: string;
}

/** Lines of all logs by the logs that share them: those of most logs first. */
function shared(lines: readonly (readonly Line[])[], page: PageContext): readonly View[] {
  const { logs: all } = page.report;
  const holders = new Map<string, { readonly line: Line; readonly logs: number[] }>();
  lines.forEach((own, log) => {
    for (const line of own) {
      const key = JSON.stringify([line.what, line.says]);
      const known = holders.get(key) ?? { line, logs: [] };
      if (!known.logs.includes(log)) known.logs.push(log);
      holders.set(key, known);
    }
  });
  const groups = new Map<string, { readonly logs: readonly number[]; readonly lines: Line[] }>();
  for (const { line, logs: holding } of holders.values()) {
    const known = groups.get(holding.join()) ?? { logs: holding, lines: [] };
    known.lines.push(line);
    groups.set(holding.join(), known);
  }
  return [...groups.values()]
    .sort((a, b) => b.logs.length - a.logs.length || (a.logs[0] ?? 0) - (b.logs[0] ?? 0))
    .map(({ logs: holding, lines: said }) => ({
      names:
        holding.length === all.length && all.length > 1
          ? page.texts.logs.all
          : holding.map((log) => page.name(all[log]?.name ?? "")).join(", "),
      lines: said.map((line) => ({ ...line })),
    }));
}

/** A question and its answer go into another language together: `point` is a mark only where marks are asked for. */
function settled(
  { what, value }: { readonly what: string; readonly value: string },
  page: PageContext,
): { readonly what: string; readonly value: string } {
  const own = page.say(`${what}: ${value}`);
  if (own === `${what}: ${value}`) return { what: page.name(what), value: page.name(value) };
  const [first = "", ...rest] = own.split(": ");
  return { what: page.name(first), value: page.name(rest.join(": ")) };
}
