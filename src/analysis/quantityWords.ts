import { type Said, say } from "../model/say.ts";

const WORDS: Readonly<Record<string, string>> = {
  slopeX: "slope over X",
  slopeY: "slope over Y",
  x: "place along X",
  y: "place along Y",
  z: "place along Z",
};

/** A quantity of a feature as a person calls it: `slope over X` for `slopeX`. */
export const quantityWords = (name: string): Said | string => {
  const words = Object.hasOwn(WORDS, name) ? WORDS[name] : undefined;
  return words === undefined ? name : say(words);
};
