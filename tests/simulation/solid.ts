// Solids that are turned and set down for real: points and planes as vectors, no formula of the advice.
export type V = readonly [number, number, number];
export const plus = (a: V, b: V): V => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const times = (a: V, k: number): V => [a[0] * k, a[1] * k, a[2] * k];
export const inner = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const outer = (a: V, b: V): V => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const normed = (a: V): V => times(a, 1 / Math.hypot(...a));

/** A place in space of a rigid solid: three axes and an origin. */
export interface Pose {
  readonly x: V;
  readonly y: V;
  readonly z: V;
  readonly origin: V;
}
export const HOME: Pose = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1], origin: [0, 0, 0] };
export const directionIn = (pose: Pose, d: V): V =>
  plus(plus(times(pose.x, d[0]), times(pose.y, d[1])), times(pose.z, d[2]));
export const pointIn = (pose: Pose, p: V): V => plus(directionIn(pose, p), pose.origin);
/** `inside` carried along by `outside`. */
export const within = (outside: Pose, inside: Pose): Pose => ({
  x: directionIn(outside, inside.x),
  y: directionIn(outside, inside.y),
  z: directionIn(outside, inside.z),
  origin: pointIn(outside, inside.origin),
});

/** Turned about a line through `through` by the right-hand rule: the part along the line stays, the rest goes round. */
export function turnedAbout(through: V, line: V, radians: number): Pose {
  const w = normed(line);
  const turn = (p: V): V => {
    const along = times(w, inner(p, w));
    const across = minus(p, along);
    const sideways = outer(w, across);
    return plus(along, plus(times(across, Math.cos(radians)), times(sideways, Math.sin(radians))));
  };
  return {
    x: turn([1, 0, 0]),
    y: turn([0, 1, 0]),
    z: turn([0, 0, 1]),
    origin: minus(through, turn(through)),
  };
}

/** A flat bottom set down on three points (none below another): up is the upward normal, x stays as near +X as it can. */
export function setDownOn(a: V, b: V, c: V): Pose {
  const raw = normed(outer(minus(b, a), minus(c, a)));
  const y = raw[1] < 0 ? times(raw, -1) : raw;
  const x = normed(minus([1, 0, 0], times(y, y[0])));
  const z = outer(x, y);
  // The height of the bottom at the origin.
  const lift = inner(a, y) / y[1];
  return { x, y, z, origin: [0, lift, 0] };
}

/** A plane by a point and an outward normal. */
export interface Flat {
  readonly at: V;
  readonly normal: V;
}
export const flatIn = (pose: Pose, flat: Flat): Flat => ({
  at: pointIn(pose, flat.at),
  normal: directionIn(pose, flat.normal),
});
/** Where a straight line along Z at (x, y) meets a plane. */
export function zOn(flat: Flat, x: number, y: number): number {
  return (
    flat.at[2] - (flat.normal[0] * (x - flat.at[0]) + flat.normal[1] * (y - flat.at[1])) / flat.normal[2]
  );
}
