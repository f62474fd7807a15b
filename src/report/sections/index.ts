import { advice } from "./advice.ts";
import { assumptions } from "./assumptions.ts";
import { card } from "./card.ts";
import { cautions } from "./cautions.ts";
import type { Section } from "./contract.ts";
import { correction } from "./correction.ts";
import { decision } from "./decision.ts";
import { entries } from "./entries.ts";
import { exclusions } from "./exclusions.ts";
import { features } from "./features.ts";
import { findings } from "./findings.ts";
import { gauges } from "./gauges.ts";
import { identity } from "./identity.ts";
import { logs } from "./logs.ts";
import { offsets } from "./offsets.ts";
import { open } from "./open.ts";
import { results } from "./results.ts";
import { signatures } from "./signatures.ts";
import { signOffs } from "./signOffs.ts";
import { verdict } from "./verdict.ts";

/** The parts of a report in the order of the page: the answer first, then the proof. */
export const SECTIONS: readonly Section[] = [
  identity,
  verdict,
  card,
  entries,
  open,
  offsets,
  results,
  correction,
  advice,
  features,
  signOffs,
  findings,
  exclusions,
  logs,
  gauges,
  decision,
  assumptions,
  cautions,
  signatures,
];
