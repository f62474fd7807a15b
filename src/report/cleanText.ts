/** What a log or plan may smuggle in: control characters, and marks that turn the direction of the text around them. */
const CONTROL = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029]/g;
const DIRECTION = /[\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g;
const HALF_CHARACTER = /\p{Cs}/gu;
/** More marks on one letter than any language has would climb over the lines above. */
const STACKED_MARKS = /(\p{M}{4})\p{M}+/gu;

/** `text` as it may stand on a page: control characters become blanks, direction marks go, half characters are shown. */
export function cleanText(text: string): string {
  return text
    .replace(CONTROL, " ")
    .replace(DIRECTION, "")
    .replace(HALF_CHARACTER, "\ufffd")
    .replace(STACKED_MARKS, "$1");
}
