/** Cosine and sine of an angle in degrees, exact at multiples of a quarter turn. */
export function cosSin(degrees: number): { readonly cos: number; readonly sin: number } {
  const turned = ((degrees % 360) + 360) % 360;
  if (turned % 90 === 0) {
    const quarter = turned / 90;
    return { cos: [1, 0, -1, 0][quarter] ?? 1, sin: [0, 1, 0, -1][quarter] ?? 0 };
  }
  const radians = (turned * Math.PI) / 180;
  return { cos: Math.cos(radians), sin: Math.sin(radians) };
}
export interface PlaceXZ {
  readonly x: number;
  readonly z: number;
}
/**
 * Where a point of the pallet stands after B has risen by `degrees`: x' = x cos + z sin, z' = -x sin + z cos about
 * `center`, with the angle reversed for a B of sense -1 (right-hand rule about +Y for +1).
 */
export function carry(place: PlaceXZ, center: PlaceXZ, degrees: number, sense: 1 | -1): PlaceXZ {
  const { cos, sin } = cosSin(sense * degrees);
  const [x, z] = [place.x - center.x, place.z - center.z];
  return { x: center.x + x * cos + z * sin, z: center.z - x * sin + z * cos };
}
/** Radians as degrees. */
export const degrees = (radians: number): number => (radians * 180) / Math.PI;
/** Direction of (x, y) in degrees from +X towards +Y, 0 to 360; null without a direction. */
export function bearing(x: number, y: number): number | null {
  if (x === 0 && y === 0) return null;
  const angle = degrees(Math.atan2(y, x));
  return angle < 0 ? angle + 360 : angle;
}
