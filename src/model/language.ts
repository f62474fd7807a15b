/** Languages that a page can be asked for; each has its file in the texts of the report. */
export const LANGUAGES = ["en", "de"] as const;
export type Language = (typeof LANGUAGES)[number];

/** Answers to a sign-off in each language, in lower case; those of every language count whatever the page's. */
export const ANSWERS: Readonly<Record<Language, Readonly<Record<"yes" | "no", readonly string[]>>>> = {
  en: { yes: ["yes", "y", "ok", "true"], no: ["no", "n", "false"] },
  de: { yes: ["ja", "j"], no: ["nein"] },
};
