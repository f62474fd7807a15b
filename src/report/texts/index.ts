import type { SetupReport } from "../../model/setupReport.ts";
import { de } from "./de.ts";
import { en } from "./en.ts";
import type { Texts } from "./words.ts";

/** The texts of a page by the language that the report asks for. */
export const TEXTS: Readonly<Record<SetupReport["language"], Texts>> = {
  en: { ...en, sentences: {} },
  de,
};
