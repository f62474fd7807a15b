import type { Language } from "../../model/language.ts";
import { de } from "./de.ts";
import { en } from "./en.ts";
import type { Texts } from "./words.ts";

/** The texts of a page by the language that the report asks for. */
export const TEXTS: Readonly<Record<Language, Texts>> = {
  en: { ...en, sentences: {}, phrases: {}, joints: { and: "and", or: "or" } },
  de,
};
