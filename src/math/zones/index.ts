export {
  BALANCE_TOLERANCE,
  type CertificateCheck,
  type Certified,
  checkCertificate,
  FIT_TOLERANCE,
} from "./certificate.ts";
export { type CircumscribedCircle, circumscribedCircle } from "./circumscribedCircle.ts";
export { hull2 } from "./hull2.ts";
export { type InscribedCircle, inscribedCircle } from "./inscribedCircle.ts";
export { type LinearProgram, type LinearSolution, solveLinearProgram } from "./lp.ts";
export { type AffineFamily, type MinimaxStep, minimax, type Sides } from "./minimax.ts";
export {
  type AxisCylinder,
  angularityZone,
  axisCylinder,
  type OrientationZone,
  parallelZone,
  perpendicularityZone,
} from "./orientationZone.ts";
export type { Proof, Support } from "./support.ts";
export { type TangentPlane, tangentPlane } from "./tangentPlane.ts";
export { type CircleZone, zoneCircle } from "./zoneCircle.ts";
export {
  type AxisStart,
  type CylinderZone,
  circumscribedCylinder,
  inscribedCylinder,
  type OneCylinder,
  zoneCylinder,
} from "./zoneCylinder.ts";
export { type LineZone, zoneLine } from "./zoneLine.ts";
export { type PlaneZone, zonePlane } from "./zonePlane.ts";
