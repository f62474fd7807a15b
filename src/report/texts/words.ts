import type { en } from "./en.ts";

/** The shape of a language's texts: the English file's keys, any words. */
export type Words<T> = T extends string ? string : { readonly [K in keyof T]: Words<T[K]> };
export type Texts = Words<typeof en> & {
  /**
   * English sentence template -> the same template in this language; what is not here is said in English. A value that is
   * itself an English phrase is marked `{count:words}`, a list of names with its last joint in English `{logs:list}`.
   */
  readonly sentences: Readonly<Record<string, string>>;
  /** English phrases that the record has without values -> the same in this language; what varies is a named hole. */
  readonly phrases: Readonly<Record<string, string>>;
  /** Last joint of a list. */
  readonly joints: { readonly and: string; readonly or: string };
};
