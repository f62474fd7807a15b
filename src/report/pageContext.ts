import { knownRounding } from "../model/knownRounding.ts";
import { fill, type SayOptions } from "../model/say.ts";
import type { SetupReport } from "../model/setupReport.ts";
import { cleanText } from "./cleanText.ts";
import type { NumberStyle } from "./format.ts";
import { TEXTS } from "./texts/index.ts";
import type { Texts } from "./texts/words.ts";
import { translator } from "./translate.ts";

/** What every section sees. */
export interface PageContext {
  readonly report: SetupReport;
  readonly texts: Texts;
  readonly style: NumberStyle;
  /** A newer revision exists: its number. */
  readonly supersededBy: number | null;
  /** A sentence of the record in the page's unit and language, fit to stand on it, cut after `most` letters. */
  say(sentence: string, letters?: Letters): string;
  /** A name from outside (feature, log, person), fit to stand on the page. */
  name(name: string, letters?: Letters): string;
  /** A text of the page with its values. */
  text(template: string, values?: Readonly<Record<string, string>>): string;
}

/** Where a text is cut. */
interface Letters {
  readonly most: number;
}

const NAME_LENGTH = 90;
const SENTENCE_LENGTH = 900;

export function pageContext(report: SetupReport, supersededBy: number | null): PageContext {
  const texts = TEXTS[report.language] ?? TEXTS.en;
  const style: NumberStyle = {
    show: report.show,
    also: report.showAlso === "mm" || report.showAlso === "in" ? report.showAlso : null,
    decimal: texts.decimal === "," ? "," : ".",
    known: knownRounding(report),
  };
  const resay = resayer(report, texts, style);
  const text = (template: string, values: Readonly<Record<string, string>> = {}): string =>
    fill(template, values, style);
  const cut = (long: string, length: number): string => {
    const clean = cleanText(long);
    if (clean.length <= length) return clean;
    return text(texts.cut, {
      text: clean
        .slice(0, length)
        .replace(/\p{Cs}$/u, "")
        .trimEnd(),
      count: String(long.length),
    });
  };
  return {
    report,
    texts,
    style,
    supersededBy,
    text,
    say: (sentence, { most } = { most: SENTENCE_LENGTH }) => cut(resay(sentence), most),
    name: (name, { most } = { most: NAME_LENGTH }) => cut(name, most),
  };
}

/** Says a sentence of the record again from its template, in the page's units and language. */
function resayer(report: SetupReport, texts: Texts, style: NumberStyle): (sentence: string) => string {
  const { translate, phrase, plain } = translator(texts);
  const options: SayOptions = { ...style, translate, phrase };
  return (sentence) => {
    const wording = own(report.wording, sentence);
    if (wording === undefined) return plain(sentence);
    try {
      return typographicMinus(fill(wording.template, wording.values, options));
    } catch {
      // A record from elsewhere may lack a value: what it says in full still stands.
      return sentence;
    }
  };
}

/** A key of the record itself: a sentence may be called `constructor`. */
export function own<T>(record: Readonly<Record<string, T>> | undefined, key: string): T | undefined {
  return record !== undefined && Object.hasOwn(record, key) ? record[key] : undefined;
}

const typographicMinus = (text: string): string => text.replace(/(^|[\s(|])-(?=[\d.,])/g, "$1\u2212");
