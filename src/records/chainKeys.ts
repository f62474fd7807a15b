import { identityOf } from "../ingest/setupIdentity.ts";
import type { LogRecord } from "../model/measurement.ts";

/** What tells one chain of revisions from another; null: no log of it says. */
export interface ChainKeys {
  readonly plan: string;
  readonly job: string | null;
  readonly operation: string | null;
  readonly setup: string | null;
  readonly machine: string | null;
  readonly pallet: string | null;
  readonly serial: string | null;
}
/** A chain, or a log that looks for one. */
export interface ChainMember {
  readonly keys: ChainKeys;
  /** Day of the log, of a chain its latest: YYYY-MM-DD. */
  readonly day: string;
}

/** Keys that name the report; a chain never gets another name. */
const NAMING = ["job", "operation", "setup"] as const;
/** Keys that a later log may add. */
const PLACING = ["machine", "pallet", "serial"] as const;

/** What a log says about its setup, under the plan it was given. */
export function chainKeysOf(record: LogRecord, plan: string): ChainKeys {
  const { job, operation, setup, machine, pallet, serial } = identityOf(record);
  return {
    plan,
    job: job ?? null,
    operation: operation ?? null,
    setup: setup ?? null,
    machine: machine ?? null,
    pallet: pallet ?? null,
    serial: serial ?? null,
  };
}

/**
 * Whether a log may go into a chain: nothing that both state differs, it does not change the chain's name, and where it
 * states no job it came on the chain's day.
 */
export function fits(log: ChainMember, chain: ChainMember): boolean {
  if (log.keys.plan !== chain.keys.plan) return false;
  if (log.keys.job === null && log.day !== chain.day) return false;
  return (
    NAMING.every((key) => log.keys[key] === null || log.keys[key] === chain.keys[key]) &&
    PLACING.every(
      (key) => log.keys[key] === null || chain.keys[key] === null || log.keys[key] === chain.keys[key],
    )
  );
}

/** A chain's keys with what a log adds. */
export const joined = (chain: ChainKeys, log: ChainKeys): ChainKeys => ({
  ...chain,
  machine: chain.machine ?? log.machine,
  pallet: chain.pallet ?? log.pallet,
  serial: chain.serial ?? log.serial,
});

/** How much a log says: those that say most found chains that the others may join. */
export const stated = (keys: ChainKeys): number =>
  Object.values(keys).filter((value) => value !== null).length;
