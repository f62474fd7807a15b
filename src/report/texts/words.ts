import type { en } from "./en.ts";

/** The shape of a language's texts: the English file's keys, any words. */
export type Words<T> = T extends string ? string : { readonly [K in keyof T]: Words<T[K]> };
export type Texts = Words<typeof en> & {
  /** English sentence template -> the same template in this language; what is not here is said in English. */
  readonly sentences: Readonly<Record<string, string>>;
};
