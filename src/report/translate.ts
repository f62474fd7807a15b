import type { SaidValue } from "../model/say.ts";
import type { Texts } from "./texts/words.ts";

/** What a language makes of the record's English. */
export interface Translator {
  /** A sentence's template; the English one where the language has none or asks for a value that is not there. */
  translate(template: string, values: Readonly<Record<string, SaidValue>>): string;
  /**
   * A text inside a sentence that its translation marks: `words` are looked up, a `list` has its last joint changed, a
   * `number` its decimal mark.
   */
  phrase(text: string, mark: string): string;
  /** A text that came without a template. */
  plain(text: string): string;
}

/** Looks up sentences and phrases of one language. Never throws, whatever the record says. */
export function translator({ sentences, phrases, joints, decimal }: Texts): Translator {
  const known = (text: string): string | undefined =>
    Object.hasOwn(sentences, text) ? sentences[text] : undefined;
  const patterns = Object.entries(phrases).map(([english, own]) => ({ find: patternOf(english), own }));
  const plain = (text: string): string => {
    const whole = known(text);
    if (whole !== undefined || text.length > LONGEST_PHRASE) return whole ?? text;
    for (const { find, own } of patterns) {
      const match = find.exec(text);
      if (match === null) continue;
      const groups = match.groups ?? {};
      return own.replace(HOLE, (_, name: string, mark?: string) =>
        mark === undefined ? (groups[name] ?? "") : phrase(groups[name] ?? "", mark),
      );
    }
    return text;
  };
  const phrase = (text: string, mark: string): string => {
    if (mark === "list") return text.replace(LAST_JOINT, (_, joint: "and" | "or") => ` ${joints[joint]} `);
    return mark === "number" ? text.replace(/(\d)\.(?=\d)/g, `$1${decimal}`) : plain(text);
  };
  return {
    plain,
    phrase,
    translate: (template, values) => {
      const own = known(template);
      if (own === undefined) return Object.keys(values).length === 0 ? plain(template) : template;
      return namesIn(own).every((name) => Object.hasOwn(values, name)) ? own : template;
    },
  };
}

/** No phrase is longer; what a log smuggled in may be. */
const LONGEST_PHRASE = 400;
const HOLE = /\{([a-zA-Z0-9]+)(?::([a-z]+))?\}/g;
/** The last `and` or `or` between names. */
const LAST_JOINT = / (and|or) (?!.* (?:and|or) )/;
const namesIn = (template: string): string[] => [...template.matchAll(HOLE)].map(([, name]) => name ?? "");

/** A phrase with holes as a pattern for the whole text. */
function patternOf(english: string): RegExp {
  const parts = english.split(/(\{[a-zA-Z0-9]+\})/).map((part) => {
    const name = /^\{([a-zA-Z0-9]+)\}$/.exec(part)?.[1];
    return name === undefined ? part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&") : `(?<${name}>.*?)`;
  });
  return new RegExp(`^${parts.join("")}$`, "su");
}
