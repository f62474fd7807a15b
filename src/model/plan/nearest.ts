/**
 * Number of letters to put in, take out, change or swap with their neighbour to come from one word to the other
 * (optimal string alignment; V. I. Levenshtein 1966, F. J. Damerau 1964).
 */
export function spellingDistance(from: string, to: string): number {
  const a = [...from];
  const b = [...to];
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (last[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let best = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, change);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) best = Math.min(best, (beforeLast[j - 2] ?? 0) + 1);
      row.push(best);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length] ?? 0;
}

/** `bSense`, `b_sense` and `B Sense` are all meant as `b-sense`. */
const asKey = (word: string): string =>
  word
    .trim()
    .replace(/([a-z0-9])([A-Z])/g, "$1-$2")
    .replace(/[\s_]+/g, "-")
    .toLowerCase();

const LONGEST_WORD = 60;

/** The word of the list that was most likely meant, or null when none is near. */
export function nearest(word: string, words: readonly string[]): string | null {
  if (word.length > LONGEST_WORD) return null;
  const folded = asKey(word);
  let best: { word: string; distance: number } | null = null;
  for (const candidate of words) {
    if (candidate.length > LONGEST_WORD) continue;
    const distance = spellingDistance(folded, asKey(candidate));
    const allowed = slipsAllowed(Math.max(folded.length, candidate.length));
    if (distance <= allowed && (best === null || distance < best.distance))
      best = { word: candidate, distance };
  }
  return best?.word ?? null;
}

/** Of one or two letters any word is one slip away from many others: there the spelling must be right but for case. */
const slipsAllowed = (letters: number): number => (letters < 3 ? 0 : letters < 5 ? 1 : letters < 8 ? 2 : 3);

const MOST_LISTED = 20;
/** `a, b or c`; a long list is cut with its count. */
export function listed(words: readonly string[], last: "or" | "and" = "or"): string {
  if (words.length > MOST_LISTED)
    return `${words.slice(0, MOST_LISTED).join(", ")} ... (${words.length} in all)`;
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;
}

/** The end of a sentence about a word that is not known: the nearest right spelling, else all there are. */
export function meant(word: string, words: readonly string[], noun: string): string {
  if (words.length === 0) return `the plan has no ${noun}`;
  const near = nearest(word, words);
  return near === null ? `${noun}: ${listed(words)}` : `did you mean "${near}"?`;
}

/** A value from the file as it is shown in a sentence: short, on one line. */
export function shown(value: unknown): string {
  if (value === undefined || value === null) return "empty";
  if (Array.isArray(value)) return listText(value);
  if (typeof value === "object") return Object.keys(value).length === 0 ? "an empty mapping" : "a mapping";
  if (typeof value !== "string") return `${value}`;
  return `"${clipped(value)}"`;
}
function listText(items: readonly unknown[]): string {
  if (items.length === 0) return "an empty list";
  const few = items.length <= 6 && items.every((item) => typeof item === "number");
  return few ? `[${items.join(", ")}]` : "a list";
}
/** A word from the file, on one line and not too long. */
export function clipped(text: string): string {
  const line = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]/g, " ");
  return line.length > LONGEST_WORD ? `${line.slice(0, LONGEST_WORD)}...` : line;
}
/** `a plane`, `an axis`. */
export const articled = (noun: string): string => `${/^[aeiou]/i.test(noun) ? "an" : "a"} ${noun}`;
