import type { Move, ReportAdvice } from "../../model/setupReport.ts";
import { type Quantity, quantity } from "../format.ts";
import { own, type PageContext } from "../pageContext.ts";
import { plotAdvice } from "../plots/index.ts";
import { adviceNumbers } from "./adviceValues.ts";
import type { Section, View } from "./contract.ts";
import { adviceWord, alignColumns, movedName, namesOf, quantityView } from "./shared.ts";

/** Each advice with its moves, its picture, its numbers and the steps a second person can check. */
export const advice: Section = {
  name: "advice",
  heading: (page) => page.texts.advice.heading,
  view: (page) => {
    const { report, texts } = page;
    return {
      text: texts.advice,
      empty: report.advice.length === 0 ? texts.advice.empty : null,
      noValue: texts.noValue,
      shared: sharedCautions(page).map((text) => page.say(text)),
      entries: report.advice.map((entry, index) => entryOf(entry, index, page)),
    };
  },
};

function entryOf(entry: ReportAdvice, index: number, page: PageContext): { [key: string]: View } {
  const plot = plotAdvice(entry, `advice-${index}`, page);
  const shared = new Set(sharedCautions(page));
  return {
    kind: adviceWord(entry.kind, page),
    of: namesOf(entry.of, page),
    status: page.texts.advice.status[entry.status],
    waiting: entry.status !== "advised",
    headline: page.say(entry.headline),
    moves: movesOf(entry, page),
    expect: entry.expect === null ? null : page.say(entry.expect),
    next: entry.next === null ? null : page.say(entry.next),
    working: entry.working.map((text) => page.say(text)),
    cautions: entry.cautions.filter((text) => !shared.has(text)).map((text) => page.say(text)),
    numbers: adviceNumbers(entry, page).map((one) => ({ ...one })),
    plot: plot && { svg: plot.svg, caption: plot.caption },
    turns: entry.moves.some((move) => move.turnDegrees !== undefined),
  };
}

/** What several advices warn of is said once, before them. */
function sharedCautions({ report }: PageContext): readonly string[] {
  const all = report.advice.flatMap(({ cautions }) => [...new Set(cautions)]);
  return [...new Set(all.filter((text, index) => all.indexOf(text) !== index))];
}

function movesOf(advice: ReportAdvice, page: PageContext): readonly { [key: string]: View }[] {
  const rows = advice.moves.map((move) => ({
    at: movedName(advice, move, page),
    along: move.along.length === 1 ? page.name(move.along.toUpperCase()) : page.say(move.along),
    amount: quantity(move.amount, move.unit, page.style, { signed: true }),
    turn: turnOf(move, page),
    words: move.words === undefined ? wayOf(move, page) : page.say(move.words),
  }));
  return alignColumns(rows, ["amount", "turn"]).map((row) => ({
    ...row,
    amount: quantityView(row.amount),
    turn: quantityView(row.turn),
  }));
}

/** A screw is turned by eye: a tenth of a degree is plenty. Its way stands in words, so that it has no sign. */
const turnOf = (move: Move, page: PageContext): Quantity | null =>
  move.turnDegrees === undefined
    ? null
    : quantity(Math.abs(move.turnDegrees), "deg", page.style, { decimals: 1 });

function wayOf(move: Move, page: PageContext): string {
  const pair = own<{ readonly plus: string; readonly minus: string }>(page.texts.ways, move.along);
  if (pair === undefined || move.amount === 0) return "";
  return move.amount > 0 ? pair.plus : pair.minus;
}
