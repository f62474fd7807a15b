import type { Move, ReportAdvice } from "../../model/setupReport.ts";
import type { PageContext } from "../pageContext.ts";
import { numberIn } from "./adviceData.ts";
import type { AdvicePlotKind } from "./contract.ts";
import { arrow, INK, nameAt, scaleBar, stroke } from "./drawing.ts";
import { factorText, movedText, niceBelow, niceLengthBelow, roundLength } from "./scales.ts";
import { element, picture } from "./svg.ts";

const SIZE = { width: 400, height: 152 } as const;
const BOX = { left: 60, right: 340, middle: 76, reach: 36 } as const;

/** The face as it stands and as it should, with the move at each stop (from above) or support (from the right). */
export const squareUp: AdvicePlotKind = {
  name: "square-up",
  draw: (data, advice, _id, page) => {
    const stops = stopsIn(data);
    const yaw =
      advice.moves.some((move) => move.along === "z") || !advice.moves.some((move) => move.along === "y");
    const own = stops
      .filter((stop) => (yaw ? stop.x : stop.z) !== null)
      .map((stop) => ({ name: stop.name, at: (yaw ? stop.x : stop.z) ?? 0 }));
    const slope = numberIn(advice.values, yaw ? "slopeX" : "slopeY");
    if (slope === null || own.length < 2) return null;
    const span = { from: Math.min(...own.map(({ at }) => at)), to: Math.max(...own.map(({ at }) => at)) };
    if (!(span.to > span.from)) return null;
    const { plots } = page.texts;
    return {
      svg: drawn({ own, span, slope, yaw }, advice, page),
      caption: page.text(plots.squareUpCaption, { view: yaw ? plots.fromAbove : plots.fromTheRight }),
    };
  },
};

interface Stop {
  readonly name: string;
  readonly x: number | null;
  readonly z: number | null;
}
function stopsIn(data: unknown): readonly Stop[] {
  const list = (data as { stops?: unknown } | null)?.stops;
  if (!Array.isArray(list)) return [];
  return list.flatMap((one: unknown) => {
    const name = (one as { name?: unknown } | null)?.name;
    return typeof name === "string" ? [{ name, x: numberIn(one, "x"), z: numberIn(one, "z") }] : [];
  });
}

interface Scene {
  readonly own: readonly { readonly name: string; readonly at: number }[];
  readonly span: { readonly from: number; readonly to: number };
  readonly slope: number;
  readonly yaw: boolean;
}

function drawn({ own, span, slope, yaw }: Scene, advice: ReportAdvice, page: PageContext): string {
  const x = (at: number): number =>
    BOX.left + ((at - span.from) / (span.to - span.from)) * (BOX.right - BOX.left);
  const pxPerMm = (BOX.right - BOX.left) / (span.to - span.from);
  const lift = Math.abs(slope) * (span.to - span.from) * pxPerMm;
  const factor = lift > 0 ? niceBelow(BOX.reach / lift) : 1;
  // From above the spindle is below, so nearer to it is lower; a support's picture has up at the top. A top that leans to
  // the spindle (b above zero) stands on a base that falls towards the spindle.
  const y = (at: number): number => BOX.middle + (at - (span.from + span.to) / 2) * slope * pxPerMm * factor;
  const { plots } = page.texts;
  const moveAt = (name: string): Move | undefined =>
    advice.moves.find((move) => move.at === name && move.along === (yaw ? "z" : "y"));
  const marks = own.map(({ name, at }) => {
    const move = moveAt(name);
    const [px, py] = [x(at), y(at)];
    const spot = element("circle", {
      cx: px,
      cy: py,
      r: 3.5,
      fill: "#fff",
      stroke: INK,
      "stroke-width": 1.2,
      class: "stop",
    });
    const words = nameAt(px, SIZE.height - 8, page.name(name));
    if (move === undefined || move.amount === 0) return spot + words;
    // Plus Z is towards the spindle, down in the picture; plus Y is up.
    const down = yaw ? move.amount > 0 : move.amount < 0;
    const end = py + (down ? 26 : -26);
    return (
      arrow([px, py], [px, end], "move") +
      spot +
      nameAt(px, end + (down ? 14 : -6), movedText(move.amount, page), true) +
      words
    );
  });
  return picture(
    SIZE,
    page.text(plots.squareUpLabel, { of: page.name(String(advice.of ?? "")) }),
    stroke([BOX.left - 20, BOX.middle], [BOX.right + 20, BOX.middle], {
      "stroke-dasharray": "5 3",
      "stroke-width": 0.8,
      class: "square",
    }),
    stroke([x(span.from), y(span.from)], [x(span.to), y(span.to)], { "stroke-width": 2.4, class: "face" }),
    ...marks,
    bar(pxPerMm, page),
    nameAt(SIZE.width / 2, 14, page.text(plots.heightScale, { factor: factorText(factor, page) })),
  );
}

function bar(pxPerMm: number, page: PageContext): string {
  const mm = niceLengthBelow(70 / pxPerMm, page);
  return scaleBar({
    left: SIZE.width / 2 - 40,
    y: SIZE.height - 22,
    length: mm * pxPerMm,
    text: roundLength(mm, page),
  });
}
