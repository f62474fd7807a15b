declare const PLINTH_VERSION: string | undefined;
/** Set when the package is built; sources run by the tests carry the word `source`. */
export const VERSION: string = typeof PLINTH_VERSION === "string" ? PLINTH_VERSION : "source";
