import type { ReportSignOff } from "../../model/setupReport.ts";
import { plainNumber } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import type { Section } from "./contract.ts";
import { verdictView } from "./shared.ts";

/** What people confirmed or read off. */
export const signOffs: Section = {
  name: "sign-offs",
  heading: (page) => page.texts.signOffs.heading,
  view: (page) => {
    const { report, texts } = page;
    if (report.signOffs.length === 0) return null;
    return {
      text: texts.signOffs,
      rows: report.signOffs.map((entry) => ({
        id: page.name(entry.id),
        ask: page.say(entry.ask),
        value: answerText(entry, page),
        limits: limitsText(entry, page),
        by: entry.by === null ? texts.notStated : page.name(entry.by),
        time: entry.time === null ? "" : page.name(entry.time),
        mark: verdictView(entry.verdict, page),
        because: page.say(entry.because),
      })),
      torque: report.signOffs.some((entry) => entry.unit?.includes("N") === true)
        ? texts.signOffs.torque
        : null,
    };
  },
};

function answerText({ value, written, unit }: ReportSignOff, page: PageContext): string {
  if (value === null) return page.texts.none;
  if (typeof value !== "string")
    return (
      withUnit(value, unit, page) +
      (written === undefined ? "" : ` (${withUnit(written.value, written.unit, page)})`)
    );
  const answers: Readonly<Record<string, string>> = { yes: page.texts.yes, no: page.texts.no };
  return own(answers, value.trim().toLowerCase()) ?? page.name(value);
}

function limitsText({ limits, unit }: ReportSignOff, page: PageContext): string {
  const { max, min, to } = page.texts.results;
  const { lower, upper } = limits;
  if (lower !== null && upper !== null)
    return `${withUnit(lower, unit, page)} ${to} ${withUnit(upper, unit, page)}`;
  if (upper !== null) return `${max} ${withUnit(upper, unit, page)}`;
  return lower === null ? "" : `${min} ${withUnit(lower, unit, page)}`;
}

/** A person's number keeps the digits it was written with, at most four decimals. */
function withUnit(value: number, unit: string | null, page: PageContext): string {
  const decimals = Math.min(4, String(value).split(".")[1]?.length ?? 0);
  return `${plainNumber(value, decimals, page.style)} ${page.name(unit ?? "")}`.trim();
}
