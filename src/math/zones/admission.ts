import type { NoResult } from "../outcome.ts";
import { type Points2, type Points3, rangeOf } from "../points.ts";
import { allFinite } from "../spread.ts";
import type { Vec2, Vec3 } from "../vector.ts";

export const refuse = (code: NoResult["code"], text: string): NoResult => ({ ok: false, code, text });

/** Refuses columns of unequal length (throws RangeError), too few points and numbers that are not finite. */
export function admit(columns: readonly Float64Array[], least: number): NoResult | null {
  const n = columns[0]?.length ?? 0;
  if (columns.some((column) => column.length !== n)) throw new RangeError("columns of unequal length");
  for (const column of columns) {
    if (allFinite(column)) continue;
    const at = column.findIndex((value) => !Number.isFinite(value));
    return refuse("not-finite", `coordinate of point ${at + 1} is not a number`);
  }
  if (n < least) return refuse("too-few-points", `needs at least ${least} points, has ${n}`);
  return null;
}

function middleOf(column: Float64Array): { middle: number; half: number } {
  const { low, high } = rangeOf(column);
  return { middle: low + (high - low) / 2, half: (high - low) / 2 };
}

/** The column less a number; of all points or of those with the given indices. */
function shifted(column: Float64Array, by: number, some: Int32Array | null): Float64Array {
  const count = some === null ? column.length : some.length;
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) out[i] = column[some === null ? i : some[i]!]! - by;
  return out;
}

/** The middle of the bounding box of points in a plane, and half its diagonal: the size tolerances refer to. */
export function boxOf2(points: Points2): { center: Vec2; size: number } {
  const [x, y] = [middleOf(points.x), middleOf(points.y)];
  return { center: [x.middle, y.middle], size: Math.hypot(x.half, y.half) };
}
/** Points about the middle of their bounding box, with half its diagonal. */
export function centred2(points: Points2): { points: Points2; center: Vec2; size: number } {
  const box = boxOf2(points);
  const [x, y] = box.center;
  return { points: { x: shifted(points.x, x, null), y: shifted(points.y, y, null) }, ...box };
}
/** The middle of the bounding box of points in space, and half its diagonal. */
export function boxOf(points: Points3): { center: Vec3; size: number } {
  const [x, y, z] = [middleOf(points.x), middleOf(points.y), middleOf(points.z)];
  return { center: [x.middle, y.middle, z.middle], size: Math.hypot(x.half, y.half, z.half) };
}
/** Points in space about the middle of their bounding box, with half its diagonal; all of them or some. */
export function centred3(
  points: Points3,
  box = boxOf(points),
  some: Int32Array | null = null,
): { points: Points3; center: Vec3; size: number } {
  const [cx, cy, cz] = box.center;
  const moved = {
    x: shifted(points.x, cx, some),
    y: shifted(points.y, cy, some),
    z: shifted(points.z, cz, some),
  };
  return { points: moved, ...box };
}

/** Largest distance of the points from the line through the two of them that lie far apart. */
export function spreadAboutLine(points: Points3): number {
  const farthest = (from: Vec3): Vec3 => {
    let best: Vec3 = from;
    let most = -1;
    for (let i = 0; i < points.x.length; i++) {
      const dx = points.x[i]! - from[0];
      const dy = points.y[i]! - from[1];
      const dz = points.z[i]! - from[2];
      const square = dx * dx + dy * dy + dz * dz;
      if (square > most) {
        most = square;
        best = [points.x[i]!, points.y[i]!, points.z[i]!];
      }
    }
    return best;
  };
  const start = farthest([points.x[0]!, points.y[0]!, points.z[0]!]);
  const end = farthest(start);
  const span: Vec3 = [end[0] - start[0], end[1] - start[1], end[2] - start[2]];
  const length = Math.hypot(...span);
  if (length === 0) return 0;
  let most = 0;
  for (let i = 0; i < points.x.length; i++) {
    const dx = points.x[i]! - start[0];
    const dy = points.y[i]! - start[1];
    const dz = points.z[i]! - start[2];
    const cx = dy * span[2] - dz * span[1];
    const cy = dz * span[0] - dx * span[2];
    const cz = dx * span[1] - dy * span[0];
    most = Math.max(most, cx * cx + cy * cy + cz * cz);
  }
  return Math.sqrt(most) / length;
}
/** Points of a plane as points in space. */
export const flatPoints = ({ x, y }: Points2): Points3 => ({ x, y, z: new Float64Array(x.length) });
/** Points nearer to one line than this part of their size count as collinear. */
export const COLLINEAR = 1e-12;
