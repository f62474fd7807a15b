import { type ChainKeys, fits, joined, stated } from "../records/chainKeys.ts";
import { type Chain, chainsLike } from "../records/ledger/chains.ts";
import type { RunContext } from "./context.ts";
import type { ReadyLog } from "./readClaim.ts";

/** Logs that go into one chain of revisions. */
export interface ChainWork {
  /** Null: these logs begin a chain. */
  readonly chain: Chain | null;
  readonly keys: ChainKeys;
  readonly day: string;
  /** In the order in which they were claimed. */
  readonly logs: readonly ReadyLog[];
}
type ChainsContext = Pick<RunContext, "ledger">;
interface Growing {
  readonly chain: Chain | null;
  keys: ChainKeys;
  day: string;
  readonly logs: ReadyLog[];
}

/**
 * Gives each log to the one chain that it fits: one that is known, or one that a log of this round begins. A log that fits
 * none, or more than one, begins its own. Those that say most go first, so that the others find what they belong to.
 */
export async function findChains(context: ChainsContext, logs: readonly ReadyLog[]): Promise<ChainWork[]> {
  const order = logs
    .map((log, at) => ({ log, at }))
    .sort((one, two) => stated(two.log.scanned.keys) - stated(one.log.scanned.keys) || one.at - two.at);
  const known = new Map<string, Growing[]>();
  for (const { log } of order) {
    const { keys } = log.scanned;
    const pool = await poolOf(context, keys, known);
    const fitting = pool.filter((chain) => fits({ keys, day: log.day }, chain));
    const [only] = fitting;
    if (only !== undefined && fitting.length === 1) {
      only.logs.push(log);
      only.keys = joined(only.keys, keys);
      if (log.day > only.day) only.day = log.day;
    } else pool.push({ chain: null, keys, day: log.day, logs: [log] });
  }
  const place = new Map(logs.map((log, at) => [log, at]));
  return [...known.values()]
    .flat()
    .filter((work) => work.logs.length > 0)
    .map((work) => ({
      ...work,
      logs: work.logs.toSorted((a, b) => (place.get(a) ?? 0) - (place.get(b) ?? 0)),
    }))
    .sort((a, b) => firstPlace(a, place) - firstPlace(b, place));
}
const firstPlace = ({ logs: [first] }: ChainWork, place: ReadonlyMap<ReadyLog, number>): number =>
  first === undefined ? 0 : (place.get(first) ?? 0);

/** Chains of a plan that a log may belong to; of each, all logs of this round see the same one grow. */
async function poolOf(
  { ledger }: ChainsContext,
  keys: ChainKeys,
  known: Map<string, Growing[]>,
): Promise<Growing[]> {
  const pool = known.get(keys.plan) ?? [];
  known.set(keys.plan, pool);
  for (const chain of await chainsLike(ledger.tables, keys))
    if (!pool.some((other) => other.chain?.id === chain.id))
      pool.push({ chain, keys: chain.keys, day: chain.day, logs: [] });
  return pool;
}
