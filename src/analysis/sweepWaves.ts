import { fitHarmonics } from "../math/harmonics.ts";
import type { SweepWave } from "../model/setupReport.ts";
import type { FittedFeature } from "./fittedFeature.ts";

/**
 * The waves round a rim or face sweep that are left when eccentricity or tilt is taken out: harmonics n = 2 to 4 (fewer where 2n is
 * not below the number of different angles) of the residuals over the angle about the fitted centre, or about the sweep axis
 * for a face, fitted together by least squares.
 * @returns cosine and sine of each wave in mm over the angle from +X towards +Y; empty for other sweeps and where the angles
 * cannot tell waves apart. Throws nothing for data.
 */
export function sweepWaves({ measured, points, geometry, residuals }: FittedFeature): readonly SweepWave[] {
  const kind = measured?.sweep?.kind;
  if (kind !== "rim-sweep" && kind !== "face-sweep") return [];
  const [cx, cy] = kind === "rim-sweep" ? geometry.center : [0, 0];
  const angles = points.x.map((x, i) => Math.atan2((points.y[i] ?? 0) - cy, x - cx));
  const split = fitHarmonics(angles, residuals);
  if (!split.ok) return [];
  return split.harmonics.filter(({ n }) => n > 1).map(({ n, cosine, sine }) => ({ n, cosine, sine }));
}
