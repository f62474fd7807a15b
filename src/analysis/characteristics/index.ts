import { angle } from "./angle.ts";
import { angularity } from "./angularity.ts";
import { coaxiality } from "./coaxiality.ts";
import type { CharacteristicKind } from "./contract.ts";
import { cylindricity } from "./cylindricity.ts";
import { diameter } from "./diameter.ts";
import { distance } from "./distance.ts";
import { eccentricity } from "./eccentricity.ts";
import { flatness } from "./flatness.ts";
import { lobing } from "./lobing.ts";
import { offset } from "./offset.ts";
import { parallelism } from "./parallelism.ts";
import { perpendicularity } from "./perpendicularity.ts";
import { position } from "./position.ts";
import { roundness } from "./roundness.ts";
import { runout } from "./runout.ts";
import { straightness } from "./straightness.ts";
import { tilt } from "./tilt.ts";

export const characteristicKinds: readonly CharacteristicKind[] = [
  flatness,
  straightness,
  roundness,
  cylindricity,
  perpendicularity,
  angularity,
  parallelism,
  angle,
  tilt,
  distance,
  diameter,
  offset,
  position,
  coaxiality,
  runout,
  eccentricity,
  lobing,
];
