import type { SaidValue } from "../../model/say.ts";
import type { ReportCharacteristic } from "../../model/setupReport.ts";
import { own, type PageContext } from "../pageContext.ts";

/** What stands with one row: the numbers of its notes and what is only its own. */
export interface BesideRow {
  readonly numbers: readonly number[];
  readonly own: readonly string[];
}

/** What is said beside the results: once below the table where several rows share it, in the row where it is the row's own. */
export interface ResultNotes {
  /** Notes in the order of their numbers, from 1. */
  readonly notes: readonly string[];
  /** In the order of the characteristics. */
  readonly rows: readonly BesideRow[];
}

interface Piece {
  readonly row: number;
  readonly sentence: string;
  /** Pieces of one key say the same, of the same or of several features. */
  readonly key: string;
  readonly feature: string | null;
}

/** Method and remarks of all characteristics, sorted into shared notes and words of one row. */
export function resultNotes(page: PageContext): ResultNotes {
  const { characteristics } = page.report;
  const pieces = characteristics.flatMap((entry, row) =>
    sentencesOf(entry).map((sentence) => pieceOf(sentence, row, page)),
  );
  const groups = new Map<string, Piece[]>();
  for (const piece of pieces) groups.set(piece.key, [...(groups.get(piece.key) ?? []), piece]);
  const shared = [...groups.values()].filter((group) => new Set(group.map(({ row }) => row)).size > 1);
  const numbers = new Map(shared.map((group, index) => [group[0]?.key ?? "", index + 1]));
  const rows = characteristics.map((_, row) => {
    const mine = pieces.filter((piece) => piece.row === row);
    const found = mine.flatMap(({ key }) => numbers.get(key) ?? []);
    return {
      numbers: [...new Set(found)].sort((a, b) => a - b),
      own: mine.filter(({ key }) => !numbers.has(key)).map(({ sentence }) => page.say(sentence)),
    };
  });
  return { notes: shared.map((group) => noteOf(group, page)), rows };
}

const sentencesOf = ({ method, remarks }: ReportCharacteristic): readonly string[] =>
  [method, ...remarks].filter((sentence) => sentence !== "");

/** A sentence about one feature has the same key for every feature where the language can say it of several. */
function pieceOf(sentence: string, row: number, page: PageContext): Piece {
  const wording = own(page.report.wording, sentence);
  const feature = wording?.values.feature;
  if (
    wording === undefined ||
    typeof feature !== "string" ||
    together(wording.template, page) === undefined ||
    Object.values(wording.values).some((value) => wordOf(value, page) === null)
  )
    return { row, sentence, key: sentence, feature: null };
  const rest = Object.entries(wording.values).filter(([name]) => name !== "feature");
  return { row, sentence, key: JSON.stringify([wording.template, rest]), feature };
}

const together = (template: string, page: PageContext): string | undefined =>
  own<string>(page.texts.results.together, template);

function noteOf(group: readonly Piece[], page: PageContext): string {
  const [first] = group;
  if (first === undefined) return "";
  const features = [...new Set(group.flatMap(({ feature }) => feature ?? []))];
  const wording = own(page.report.wording, first.sentence);
  const template = wording && together(wording.template, page);
  if (features.length < 2 || wording === undefined || template === undefined) return page.say(first.sentence);
  const values = Object.fromEntries(
    Object.entries(wording.values).map(([name, value]) => [name, wordOf(value, page) ?? ""]),
  );
  return page.text(template, { ...values, feature: features.map((name) => page.name(name)).join(", ") });
}

/** A value that is only a word, in the language of the page; null for one that is a number. */
function wordOf(value: SaidValue, page: PageContext): string | null {
  if (typeof value === "string") return page.say(value);
  return typeof value === "object" && "template" in value ? page.say(value.text) : null;
}
