import type { KindReader } from "./contract.ts";
import { probe } from "./probe.ts";
import { results } from "./results.ts";
import { signOffs } from "./signOffs.ts";
import { sweep } from "./sweep.ts";

export const KIND_READERS: readonly KindReader[] = [probe, sweep, signOffs, results];
