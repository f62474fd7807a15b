// A horizontal machine: spindle along Z, pallet on a B axis, a probe with a ball and an indicator on an arm.
import { type SeededNoise, seededNoise } from "../../src/math/seededNoise.ts";
import { type Flat, flatIn, type Pose, pointIn, turnedAbout, type V, zOn } from "./solid.ts";

export interface Machine {
  readonly sense: 1 | -1;
  /** The B axis: a point of it and its direction, nearly +Y. */
  readonly center: V;
  readonly axis: V;
  /** What the table does wrong at an index, in radians, by index in degrees. */
  readonly indexError: Readonly<Record<number, number>>;
}
/** Pallet turned to a commanded B in degrees: sense +1 is the right-hand rule about +Y. */
export function palletAt(machine: Machine, b: number): Pose {
  const error = machine.indexError[b] ?? 0;
  return turnedAbout(machine.center, machine.axis, machine.sense * ((b * Math.PI) / 180 + error));
}

/**
 * Touches of a plane along -Z at places (x, y) with a ball: the row holds the centre of the ball as it stops, and the
 * scatter of the touch.
 */
export function touch(
  flat: Flat,
  places: readonly (readonly [number, number])[],
  probe: { readonly noise: SeededNoise; readonly sigma: number; readonly ball?: number },
): V[] {
  const radius = probe.ball ?? 0;
  const tilt = flat.normal[2] / Math.hypot(...flat.normal);
  return places.map(([x, y]) => [x, y, zOn(flat, x, y) + radius / tilt + probe.sigma * probe.noise.normal()]);
}

/**
 * An indicator swept by the spindle at `stations` (degrees) round a wall. The tip hangs `sag` too low all the way round.
 * Bore: the tip looks outward for the wall; boss: inward. Reading plus = pushed in, zeroed at `radius`.
 */
export function sweepRim(
  wall: (angle: number) => V | readonly [number, number],
  stations: readonly number[],
  arm: {
    readonly radius: number;
    readonly sag: number;
    readonly surface: "bore" | "boss";
    readonly noise: SeededNoise;
    readonly sigma: number;
  },
): (readonly [number, number])[] {
  return stations.map((station) => {
    const along = (station * Math.PI) / 180;
    const far = distanceToWall(wall, along, -arm.sag);
    const reading = arm.surface === "bore" ? arm.radius - far : far - arm.radius;
    return [station, reading + arm.sigma * arm.noise.normal()] as const;
  });
}
/** How far from (0, y0) a straight line at an angle meets a closed wall, by halving on the wall's own parameter. */
function distanceToWall(
  wall: (angle: number) => V | readonly [number, number],
  along: number,
  y0: number,
): number {
  const off = (t: number): number => {
    const [x, y] = wall(t);
    return Math.sin(Math.atan2(y - y0, x) - along);
  };
  let [low, high] = [along - 0.5, along + 0.5];
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (off(middle) < 0) low = middle;
    else high = middle;
  }
  const [x, y] = wall((low + high) / 2);
  return Math.hypot(x, y - y0);
}

/** The face of a solid after its pallet has turned. */
export const faceAt = (machine: Machine, b: number, mounted: Pose, face: Flat): Flat =>
  flatIn(palletAt(machine, b), flatIn(mounted, face));
export const placeAt = (machine: Machine, b: number, onPallet: V): V =>
  pointIn(palletAt(machine, b), onPallet);

export const probing = (seed: number, sigma: number) => ({ noise: seededNoise(seed), sigma });
/** A sign at random. */
export const either = (noise: SeededNoise): 1 | -1 => (noise.uniform() < 0.5 ? 1 : -1);
/** A size between low and high with a sign at random: never nearly nothing. */
export const signed = (noise: SeededNoise, low: number, high: number): number =>
  either(noise) * noise.between(low, high);
