import { pointAt } from "../../math/points.ts";
import { add, angleBetween, scale } from "../../math/vector.ts";
import { type TangentPlane, tangentPlane } from "../../math/zones/tangentPlane.ts";
import { type Said, say } from "../../model/say.ts";
import type { FittedFeature, Geometry } from "../fittedFeature.ts";

export type DatumKind = "least-squares" | "tangent";
export interface Datum {
  readonly feature: FittedFeature;
  readonly remarks: readonly Said[];
}

/**
 * The plane that a datum feature gives: its least-squares plane, or the plane outside the material whose largest gap to the
 * points is least (ISO 5459 sense), with the difference between the two as a remark. A tangent plane hangs on the few points
 * that hold it, so its scatter is that of these points. A feature that is no plane comes back as it is.
 */
export function datumOf(feature: FittedFeature, kind: DatumKind): Datum {
  const { direction } = feature.geometry;
  if (kind === "least-squares" || feature.fit !== "plane" || direction === null)
    return { feature, remarks: [] };
  const outward = direction;
  const found = tangentPlane(feature.points, { outward });
  if (!found.ok) return { feature, remarks: [say(found.text)] };
  const held = [
    ...new Set([...found.contacts, ...[...found.upper, ...found.lower].map(({ index }) => index)]),
  ].slice(0, 12);
  const size = held.length;
  return {
    feature: {
      ...feature,
      name: `${feature.name} (tangent)`,
      geometry: geometryOf(found),
      parameters: {
        covariance: held.map((_, i) => held.map((__, j) => (i === j ? 1 : 0))),
        at: (delta) =>
          size === 0 ? geometryOf(found) : (moved(feature, outward, held, delta) ?? geometryOf(found)),
      },
    },
    remarks: differences(feature, found),
  };
}

const geometryOf = ({ center, normal }: TangentPlane): Geometry => ({
  center,
  direction: normal,
  radius: null,
});

/** The tangent plane after the holding points have moved outwards by `delta`. */
function moved(
  feature: FittedFeature,
  outward: readonly [number, number, number],
  held: readonly number[],
  delta: readonly number[],
): Geometry | null {
  const points = { x: feature.points.x.slice(), y: feature.points.y.slice(), z: feature.points.z.slice() };
  held.forEach((index, i) => {
    const by = delta[i] ?? 0;
    if (by === 0) return;
    const place = add(pointAt(feature.points, index), scale(outward, by));
    points.x[index] = place[0];
    points.y[index] = place[1];
    points.z[index] = place[2];
  });
  const found = tangentPlane(points, { outward });
  return found.ok ? geometryOf(found) : null;
}

function differences(feature: FittedFeature, found: TangentPlane): Said[] {
  const turn = angleBetween(feature.geometry.direction!, found.normal);
  const lift =
    found.largestGap === 0 ? 0 : feature.residuals.reduce((most, residual) => Math.max(most, residual), 0);
  const remarks = [
    say(
      "The tangent plane of {feature} lies {lift} above the least-squares plane at its highest point and is turned by {turn} against it.",
      {
        feature: feature.name,
        lift: { mm: lift },
        turn: { slope: turn },
      },
    ),
  ];
  if (found.rocks)
    remarks.push(
      say("A flat part set on {feature} can rock: the points that touch do not surround its middle.", {
        feature: feature.name,
      }),
    );
  return remarks;
}
