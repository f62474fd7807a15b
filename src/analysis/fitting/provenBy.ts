import { type Certified, checkCertificate } from "../../math/zones/index.ts";
import type { FormZone } from "../../model/setupReport.ts";

/**
 * How far a zone is proved, after its certificate has been checked: every point inside, weights that balance. A solver's
 * word alone does not count: without a valid certificate the zone is only an upper bound, `none`.
 */
export function provenBy<K extends keyof Certified>(
  kind: K,
  points: Certified[K]["points"],
  zone: Certified[K]["result"] & { readonly proof: FormZone["proof"] },
): FormZone["proof"] {
  return checkCertificate(kind, points, zone).proved ? zone.proof : "none";
}
