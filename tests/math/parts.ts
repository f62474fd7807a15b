import { type Points3, points3 } from "../../src/math/points.ts";
import type { SeededNoise } from "../../src/math/seededNoise.ts";
import { add, basis, scale, unit, type Vec3 } from "../../src/math/vector.ts";

/** Made parts whose truth is known. */
export interface RoundPart {
  readonly center: Vec3;
  readonly direction: Vec3;
  readonly radius: number;
  /** Radians of the arc that is touched. */
  readonly arc: number;
  readonly length: number;
  readonly count: number;
  /** Standard deviation of a touch along the radius. */
  readonly noise?: number;
}

export function randomDirection(noise: SeededNoise): Vec3 {
  return unit([noise.normal(), noise.normal(), noise.normal()]);
}

/** A place up to ten metres from the origin. */
export function randomPlace(noise: SeededNoise, reach = 10_000): Vec3 {
  return [noise.between(-reach, reach), noise.between(-reach, reach), noise.between(-reach, reach)];
}

/** Touches on a cylinder, spread over arc and length; a circle when the length is 0. */
export function cylinderTouches(part: RoundPart, noise: SeededNoise): Points3 {
  const { u, v, w } = basis(part.direction);
  const places: Vec3[] = [];
  for (let i = 0; i < part.count; i++) {
    const angle = (part.arc * (i + noise.between(-0.3, 0.3))) / part.count;
    // Heights step by the golden ratio, so that no two touches share a line or a ring.
    const height = part.length * (((i * 0.6180339887498949) % 1) - 0.5);
    const radius = part.radius + (part.noise ?? 0) * noise.normal();
    const across = add(scale(u, radius * Math.cos(angle)), scale(v, radius * Math.sin(angle)));
    places.push(add(part.center, add(across, scale(w, height))));
  }
  return points3(places);
}

/** Touches on the cap of a sphere of this half angle about `direction`. */
export function sphereTouches(
  part: { center: Vec3; direction: Vec3; radius: number; cap: number; count: number; noise?: number },
  noise: SeededNoise,
): Points3 {
  const { u, v, w } = basis(part.direction);
  const places: Vec3[] = [];
  for (let i = 0; i < part.count; i++) {
    const turn = i * 2.399963229728653;
    const tilt = Math.acos(1 - (1 - Math.cos(part.cap)) * ((i + 0.5) / part.count));
    const radius = part.radius + (part.noise ?? 0) * noise.normal();
    const across = add(scale(u, Math.cos(turn)), scale(v, Math.sin(turn)));
    places.push(
      add(part.center, add(scale(across, radius * Math.sin(tilt)), scale(w, radius * Math.cos(tilt)))),
    );
  }
  return points3(places);
}

/** Touches on a plane square of this size. */
export function planeTouches(
  part: { center: Vec3; direction: Vec3; size: number; count: number; noise?: number },
  noise: SeededNoise,
): Points3 {
  const { u, v, w } = basis(part.direction);
  const places: Vec3[] = [];
  for (let i = 0; i < part.count; i++) {
    const [a, b] = [noise.between(-0.5, 0.5) * part.size, noise.between(-0.5, 0.5) * part.size];
    const off = (part.noise ?? 0) * noise.normal();
    places.push(add(part.center, add(add(scale(u, a), scale(v, b)), scale(w, off))));
  }
  return points3(places);
}
