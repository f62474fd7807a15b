/** Languages that a page can be asked for; each has its file in the texts of the report. */
export const LANGUAGES = ["en", "de"] as const;
export type Language = (typeof LANGUAGES)[number];
