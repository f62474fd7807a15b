/** Debris under a base, as a lean tells it. Lengths in mm; edges and corners by the axes they lie towards. */
export interface Debris {
  /** `-z`, `+x`, or a corner `-x-z`; null when level or not to be named. */
  readonly edge: string | null;
  readonly edgeThickness: number | null;
  readonly cornerThickness: number | null;
  /** The thickness that goes with the place named. */
  readonly thickness: number | null;
  /** Distance of the corner from the diagonal it pivots on. */
  readonly lever: number | null;
  readonly note: "edge" | "corner" | "between" | "level" | "unnamed-corner" | "no-length";
}
interface Tilted {
  /** Seat part of the lean, top towards the spindle positive, and sideways, top towards +X positive (null: not known). */
  readonly leanZ: number;
  readonly leanX: number | null;
  readonly sideSignUnknown: boolean;
  readonly base: { readonly x: number | null; readonly z: number | null };
  /** Leans below this are none. */
  readonly noise: number;
}
/** Rises of two edges that differ less than this part of the larger are the same: one corner lifts both. */
const ALIKE = 0.3;
/** An edge that rises less than this part of the other shows none. */
const NONE_BESIDE = 0.2;

/**
 * Where the debris lies and how thick it is. The debris lies opposite to the way the top leans. One face cannot tell an
 * edge from a corner; with a second face, lean on one alone is an edge, and both with equal slope x length a corner.
 */
export function debrisUnder(tilted: Tilted): Debris {
  const { leanZ, leanX, base } = tilted;
  if (base.z === null) return { ...level(null), note: "no-length" };
  const riseZ = leanZ * base.z;
  if (leanX === null || base.x === null) return oneFace(riseZ, Math.abs(leanZ) <= tilted.noise);
  return twoFaces(tilted, riseZ, leanX * base.x, base.x, base.z);
}

const level = (thickness: number | null): Debris => ({
  edge: null,
  edgeThickness: thickness,
  cornerThickness: thickness,
  thickness,
  lever: null,
  note: "level",
});
const edgeOf = (axis: "x" | "z", rise: number): string => `${rise > 0 ? "-" : "+"}${axis}`;

function oneFace(rise: number, noise: boolean): Debris {
  const thickness = Math.abs(rise);
  if (thickness === 0) return level(0);
  return {
    edge: edgeOf("z", rise),
    edgeThickness: thickness,
    cornerThickness: thickness,
    thickness,
    lever: null,
    note: noise ? "level" : "edge",
  };
}

function twoFaces(tilted: Tilted, riseZ: number, riseX: number, x: number, z: number): Debris {
  const [alongZ, alongX] = [Math.abs(riseZ), Math.abs(riseX)];
  const most = Math.max(alongZ, alongX);
  if (most === 0) return level(0);
  const lever = (x * z) / Math.hypot(x, z);
  const cornerThickness = Math.hypot(tilted.leanZ, tilted.leanX ?? 0) * lever;
  const common = { edgeThickness: most, cornerThickness, lever };
  const least = Math.min(alongZ, alongX);
  const quiet = Math.abs(tilted.leanZ) <= tilted.noise && Math.abs(tilted.leanX ?? 0) <= tilted.noise;
  const edge = alongZ >= alongX ? edgeOf("z", riseZ) : tilted.sideSignUnknown ? null : edgeOf("x", riseX);
  if (quiet) return { ...common, edge, thickness: most, note: "level" };
  if (least <= NONE_BESIDE * most) return { ...common, edge, thickness: most, note: "edge" };
  if (tilted.sideSignUnknown)
    return { ...common, edge: null, thickness: cornerThickness, note: "unnamed-corner" };
  if (most - least > ALIKE * most) return { ...common, edge, thickness: most, note: "between" };
  const corner = `${edgeOf("x", riseX)}${edgeOf("z", riseZ)}`;
  return { ...common, edge: corner, thickness: cornerThickness, note: "corner" };
}
