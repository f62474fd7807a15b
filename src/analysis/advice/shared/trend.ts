import { type Said, say } from "../../../model/say.ts";
import type { HistoryValue } from "../../context.ts";
import { mm, signedMm } from "./words.ts";

/** The B centre against earlier reports: the last one, and how far it has wandered in all of them. */
export function centerTrend(history: readonly HistoryValue[], x: number, z: number): Said[] {
  const earlier = (quantity: string): HistoryValue[] =>
    history.filter((one) => one.of === "rotation-center" && one.quantity === quantity);
  const [xs, zs] = [earlier("x"), earlier("z")];
  const [lastX, lastZ] = [xs.at(-1), zs.at(-1)];
  if (lastX === undefined || lastZ === undefined) return [];
  const range = (all: readonly HistoryValue[], now: number): number => {
    const values = [...all.map((one) => one.value), now];
    return Math.max(...values) - Math.min(...values);
  };
  return [
    say("since {report} of {day}: X {x}, Z {z}", {
      report: lastX.report,
      day: lastX.issued.slice(0, 10),
      x: signedMm(x - lastX.value),
      z: signedMm(z - lastZ.value),
    }),
    say("over {count} earlier reports and this one the centre wandered {x} in X and {z} in Z", {
      count: xs.length,
      x: mm(range(xs, x)),
      z: mm(range(zs, z)),
    }),
  ];
}
