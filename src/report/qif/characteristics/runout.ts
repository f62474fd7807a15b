import type { CharacteristicKindForm } from "./contract.ts";
import { zoneTolerance } from "./tolerance.ts";

const ABOUT_AN_AXIS = ["rim-sweep", "face-sweep"];

/** Full indicator movement of one turn. Along a straight travel or over a map it is no runout in the standard's sense. */
export const runout: CharacteristicKindForm = {
  kinds: ["runout"],
  form({ record, of }) {
    const facts = of[0]?.facts;
    const sweep = facts?.record?.sweep?.kind ?? facts?.plan?.from ?? "";
    const tolerance = zoneTolerance(record);
    if (tolerance === null || !ABOUT_AN_AXIS.includes(sweep)) return null;
    return { element: "CircularRunout", features: of, definition: [tolerance] };
  },
};
