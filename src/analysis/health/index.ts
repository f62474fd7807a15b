import { calibrationOverdue } from "./calibrationOverdue.ts";
import { closure } from "./closure.ts";
import type { HealthCheck } from "./contract.ts";
import { crossSum } from "./crossSum.ts";
import { expansionUnstated } from "./expansionUnstated.ts";
import { extrapolation } from "./extrapolation.ts";
import { fewPoints } from "./fewPoints.ts";
import { otherIndex } from "./otherIndex.ts";
import { otherMachine } from "./otherMachine.ts";
import { outsideTravel } from "./outsideTravel.ts";
import { repeats } from "./repeats.ts";
import { resolution } from "./resolution.ts";
import { sameMachine } from "./sameMachine.ts";
import { scatterAboveStated } from "./scatterAboveStated.ts";
import { shortArc } from "./shortArc.ts";
import { stuckValues } from "./stuckValues.ts";
import { suspiciousPoint } from "./suspiciousPoint.ts";
import { temperatureUnstated } from "./temperatureUnstated.ts";
import { unitAlarm } from "./unitAlarm.ts";

export const healthChecks: readonly HealthCheck[] = [
  calibrationOverdue,
  closure,
  crossSum,
  unitAlarm,
  outsideTravel,
  stuckValues,
  resolution,
  repeats,
  suspiciousPoint,
  shortArc,
  fewPoints,
  extrapolation,
  scatterAboveStated,
  temperatureUnstated,
  expansionUnstated,
  sameMachine,
  otherMachine,
  otherIndex,
];
