import type { ReportCharacteristic, ReportSignOff, SetupReport, Verdict } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import type { Section, View } from "./contract.ts";
import { firstOf, kindWord, limitsParts, namesOf, quantityText, shownValue, verdictView } from "./shared.ts";

const MOST_ON_FIRST_PAGE = 6;
const MOST_WAYS = 2;

/** Ways to decide an entry that the first page has no room for: they stand with the entry's result. */
export function laterWays(entry: ReportCharacteristic, report: SetupReport): readonly string[] {
  if (entry.verdict !== "undecided") return [];
  const place = report.characteristics.filter(({ verdict }) => verdict === "undecided").indexOf(entry);
  return entry.toDecide.slice(place < MOST_ON_FIRST_PAGE ? MOST_WAYS : 0);
}

/** What keeps the setup from a pass: what failed, what is undecided and how to decide, what is missing. */
export const open: Section = {
  name: "open",
  heading: () => null,
  view: (page) => {
    const { failed, undecided, missing } = page.texts.open;
    const groups = [
      groupOf("fail", failed, page),
      groupOf("missing", missing, page),
      groupOf("undecided", undecided, page),
    ].filter((group) => group !== null);
    return groups.length === 0 ? null : { groups };
  },
};

function groupOf(verdict: Verdict, heading: string, page: PageContext): { [key: string]: View } | null {
  const entries = [
    ...page.report.characteristics
      .filter((entry) => entry.verdict === verdict)
      .map((entry) => characteristicLine(entry, page)),
    ...page.report.signOffs
      .filter((entry) => entry.verdict === verdict)
      .map((entry) => signOffLine(entry, page)),
  ];
  if (entries.length === 0) return null;
  const { shown, more } = firstOf(entries, MOST_ON_FIRST_PAGE, page);
  return {
    ...verdictView(verdict, page),
    heading,
    entries: shown,
    more,
    decideLabel: page.texts.open.decide,
  };
}

function characteristicLine(entry: ReportCharacteristic, page: PageContext): { [key: string]: View } {
  const value = shownValue(entry, page);
  return {
    id: page.name(entry.id),
    what: `${kindWord(entry.kind, page)}, ${namesOf(entry.of, page)}`,
    value: value === null ? page.texts.noValue : quantityText(value),
    numbers: `${page.texts.open.limit} ${limitsParts(entry.limits, entry.unit, page).join(" ")}`,
    because: page.say(entry.because),
    decide:
      entry.verdict === "undecided" ? entry.toDecide.slice(0, MOST_WAYS).map((text) => page.say(text)) : [],
  };
}

const signOffLine = (entry: ReportSignOff, page: PageContext): { [key: string]: View } => ({
  id: page.name(entry.id),
  what: page.texts.open.signOff,
  value: null,
  numbers: page.name(entry.ask),
  because: page.say(entry.because),
  decide: [],
});
