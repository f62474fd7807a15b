import type { State, SweepKind } from "../model/measurement.ts";
import type { AxisName } from "../model/plan/plan.ts";
import type { Separator } from "./adapters/contract.ts";
import type { DecimalMark } from "./readNumber.ts";

/** How the part was held: bolts pulled by hand, by wrench, in jaws, or not at all. */
type Clamping = "snug" | "torqued" | "clamped" | "free";

export interface WordTypes {
  readonly state: State;
  readonly points: "surface" | "ball-center";
  readonly frame: "machine" | "work";
  readonly sign: "toward-plus" | "toward-minus";
  readonly decimal: DecimalMark;
  readonly separator: Separator;
  readonly from: SweepKind;
  readonly surface: "bore" | "boss";
  readonly along: AxisName;
  readonly height: AxisName;
  readonly clamping: Clamping;
}
export type WordKey = keyof WordTypes;
/** How each of a few words may be written; compared without case, blanks read as hyphens. */
export const WORDS: { readonly [Key in WordKey]: Readonly<Record<string, WordTypes[Key]>> } = {
  state: { "as-found": "as-found", "as-left": "as-left" },
  points: {
    surface: "surface",
    "ball-center": "ball-center",
    "ball-centre": "ball-center",
    "tip-center": "ball-center",
    "tip-centre": "ball-center",
    center: "ball-center",
    centre: "ball-center",
  },
  frame: { machine: "machine", work: "work" },
  sign: { "toward-plus": "toward-plus", "toward-minus": "toward-minus" },
  decimal: { ".": ".", point: ".", ",": ",", comma: "," },
  separator: { ",": ",", comma: ",", ";": ";", semicolon: ";", tab: "\t", "\\t": "\t" },
  from: { traverse: "traverse", "rim-sweep": "rim-sweep", "face-sweep": "face-sweep", map: "map" },
  surface: { bore: "bore", boss: "boss" },
  along: { x: "x", y: "y", z: "z" },
  height: { x: "x", y: "y", z: "z" },
  clamping: { snug: "snug", torqued: "torqued", clamped: "clamped", free: "free" },
};

export const foldedWord = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-");
