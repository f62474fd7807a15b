import type { Points3 } from "./points.ts";
import { add, cross, dot, scale, subtract, unit, type Vec3 } from "./vector.ts";

/** A turn and then a shift: p goes to rotation p + shift. Rows of an orthogonal matrix with determinant one. */
export interface RigidMotion {
  readonly rotation: readonly [Vec3, Vec3, Vec3];
  readonly shift: Vec3;
}

/** Moves everything by `shift`. */
export function translation(shift: Vec3): RigidMotion {
  return {
    rotation: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    shift,
  };
}

/**
 * Turns by `angle` radians about the axis through `point` along `direction` (any length), right-handed: seen with
 * the direction pointing at the eye, anticlockwise. Throws RangeError for a direction of length zero.
 * Source: the rotation formula of O. Rodrigues (1840).
 */
export function rotationAbout(point: Vec3, direction: Vec3, angle: number): RigidMotion {
  const w = unit(direction);
  const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
  const turn = (p: Vec3): Vec3 =>
    add(add(scale(p, cosine), scale(cross(w, p), sine)), scale(w, dot(w, p) * (1 - cosine)));
  const [x, y, z] = [turn([1, 0, 0]), turn([0, 1, 0]), turn([0, 0, 1])];
  const rotation: [Vec3, Vec3, Vec3] = [
    [x[0], y[0], z[0]],
    [x[1], y[1], z[1]],
    [x[2], y[2], z[2]],
  ];
  return { rotation, shift: subtract(point, turn(point)) };
}

/** The motion that does `first` and then `second`. */
export function compose(second: RigidMotion, first: RigidMotion): RigidMotion {
  const columns = [0, 1, 2].map((j) =>
    moveDirection(second, [first.rotation[0][j]!, first.rotation[1][j]!, first.rotation[2][j]!]),
  );
  const row = (i: 0 | 1 | 2): Vec3 => [columns[0]![i], columns[1]![i], columns[2]![i]];
  return { rotation: [row(0), row(1), row(2)], shift: movePoint(second, first.shift) };
}

/** The motion that undoes `motion`. */
export function inverse(motion: RigidMotion): RigidMotion {
  const [a, b, c] = motion.rotation;
  const rotation: [Vec3, Vec3, Vec3] = [
    [a[0], b[0], c[0]],
    [a[1], b[1], c[1]],
    [a[2], b[2], c[2]],
  ];
  const back = { rotation, shift: [0, 0, 0] as Vec3 };
  return { rotation, shift: scale(moveDirection(back, motion.shift), -1) };
}

/** Where a direction points after the motion: turned, not shifted. */
export function moveDirection({ rotation }: RigidMotion, direction: Vec3): Vec3 {
  return [dot(rotation[0], direction), dot(rotation[1], direction), dot(rotation[2], direction)];
}

/** Where a point is after the motion. */
export function movePoint(motion: RigidMotion, point: Vec3): Vec3 {
  return add(moveDirection(motion, point), motion.shift);
}

/** Where points are after the motion. */
export function movePoints({ rotation: [a, b, c], shift }: RigidMotion, points: Points3): Points3 {
  const along = (row: Vec3, offset: number) =>
    points.x.map((x, i) => row[0] * x + row[1] * points.y[i]! + row[2] * points.z[i]! + offset);
  return { x: along(a, shift[0]), y: along(b, shift[1]), z: along(c, shift[2]) };
}
