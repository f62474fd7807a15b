import { type Points2, type Points3, points2, points3 } from "../../../src/math/points.ts";
import { basis, type Vec3 } from "../../../src/math/vector.ts";

/** Uniform numbers in [0, 1) from a seed (mulberry32), so that a failing case can be had again. */
export function uniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
export function direction(random: () => number): Vec3 {
  const z = 2 * random() - 1;
  const angle = 2 * Math.PI * random();
  const flat = Math.sqrt(1 - z * z);
  return [flat * Math.cos(angle), flat * Math.sin(angle), z];
}
const rounded = (value: number, step: number): number => (step > 0 ? Math.round(value / step) * step : value);

/** A face about a random direction: scattered or gridded, waved, perhaps read to a coarse step, perhaps far away. */
export function face(seed: number): { points: Points3; normal: Vec3 } {
  const random = uniform(seed);
  const count = 4 + Math.floor(random() * 40);
  const gridded = random() < 0.4;
  const step = random() < 0.4 ? 0.001 : 0;
  const [wide, high, form] = [5 + 200 * random(), 5 + 200 * random(), 10 ** (-5 + 4 * random())];
  const offset = random() < 0.3 ? 10_000 : 10;
  const [wave, bow] = [random() * form, (random() - 0.5) * form];
  const { u, v, w } = basis(random() < 0.3 ? [0, 0, 1] : direction(random));
  const place: Vec3 = [offset * random(), offset * random(), offset * random()];
  const across = Math.max(2, Math.floor(Math.sqrt(count)));
  const places = Array.from({ length: count }, (_, i): Vec3 => {
    const p = gridded ? wide * ((i % across) / across - 0.5) : wide * (random() - 0.5);
    const q = gridded ? high * (Math.floor(i / across) / across - 0.5) : high * (random() - 0.5);
    const rise = form * (random() - 0.5) + wave * Math.sin(p) + bow * (p / wide) ** 2;
    const h = rounded(rise, step);
    return [0, 1, 2].map((k) => place[k]! + p * u[k]! + q * v[k]! + h * w[k]!) as unknown as Vec3;
  });
  if (random() < 0.2) places.push(places[0]!, places[1]!);
  return { points: points3(places), normal: w };
}

/** A round: full or an arc, even or scattered angles, oval, lobed, perhaps read to a coarse step, perhaps far away. */
export function round(seed: number): { points: Points2; center: readonly [number, number]; full: boolean } {
  const random = uniform(seed);
  const count = 4 + Math.floor(random() * 40);
  const even = random() < 0.5;
  const full = random() < 0.8;
  const arc = full ? 2 * Math.PI : 1 + 2.5 * random();
  const step = random() < 0.3 ? 0.001 : 0;
  const [radius, form] = [1 + 100 * random(), 10 ** (-5 + 4 * random())];
  const offset = random() < 0.3 ? 10_000 : 1;
  const center = [offset * random(), offset * random()] as const;
  const [oval, lobes, turn] = [form * random() * 2, form * random(), random() * 6];
  const places = Array.from({ length: count }, (_, i): [number, number] => {
    const a = turn + arc * (even ? i / count : random());
    const r = radius + form * (random() - 0.5) + oval * Math.cos(2 * a) + lobes * Math.cos(3 * a + turn);
    return [rounded(center[0] + r * Math.cos(a), step), rounded(center[1] + r * Math.sin(a), step)];
  });
  if (random() < 0.2) places.push(places[0]!, places[1]!);
  return { points: points2(places), center, full };
}

/** A cylinder about a random axis in rings or scattered, oval and lobed. */
export function cylinder(seed: number): { points: Points3; center: Vec3; direction: Vec3 } {
  const random = uniform(seed);
  const count = 12 + Math.floor(random() * 40);
  const rings = random() < 0.5 ? 2 + Math.floor(random() * 4) : 0;
  const [radius, long, form] = [5 + 60 * random(), 10 + 150 * random(), 10 ** (-4 + 2 * random())];
  const { u, v, w } = basis(direction(random));
  const center: Vec3 = [100 * random(), 100 * random(), 100 * random()];
  const [oval, lobes] = [form * random() * 2, form * random()];
  const each = rings > 0 ? Math.ceil(count / rings) : count;
  const places = Array.from({ length: each * Math.max(1, rings) }, (_, i): Vec3 => {
    const a = rings > 0 ? (2 * Math.PI * (i % each)) / each : 2 * Math.PI * random();
    const h = long * ((rings > 0 ? Math.floor(i / each) / (rings - 1) : random()) - 0.5);
    const r = radius + form * (random() - 0.5) + oval * Math.cos(2 * a) + lobes * Math.cos(3 * a);
    return [0, 1, 2].map(
      (k) => center[k]! + r * Math.cos(a) * u[k]! + r * Math.sin(a) * v[k]! + h * w[k]!,
    ) as unknown as Vec3;
  });
  return { points: points3(places), center, direction: w };
}

export const reorder = <T extends Points2 | Points3>(points: T, order: readonly number[]): T =>
  Object.fromEntries(
    Object.entries(points).map(([key, column]) => [key, Float64Array.from(order, (i) => column[i]!)]),
  ) as unknown as T;
