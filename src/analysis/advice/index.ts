import { centering } from "./centering.ts";
import { cleanUp } from "./cleanUp.ts";
import type { AdviceKind } from "./contract.ts";
import { faceCut } from "./faceCut.ts";
import { fourFace } from "./fourFace.ts";
import { reSeat } from "./reSeat.ts";
import { rotationCenter } from "./rotationCenter.ts";
import { seatCheck } from "./seatCheck.ts";
import { squareUp } from "./squareUp.ts";
import { turnedOver } from "./turnedOver.ts";
import { workOffset } from "./workOffset.ts";

/** Every kind of advice a plan can ask for. */
export const adviceKinds: readonly AdviceKind[] = [
  squareUp,
  seatCheck,
  fourFace,
  rotationCenter,
  workOffset,
  centering,
  faceCut,
  cleanUp,
  turnedOver,
  reSeat,
];
