import type { PdfMaker } from "../records/pdfFor.ts";
import { workspacePlans } from "../records/workspacePlans.ts";
import { type Claim, openClaims } from "./claims.ts";
import type { RoundContext, RunContext, Tally } from "./context.ts";
import { type ChainWork, findChains } from "./findChains.ts";
import { inboxFiles } from "./inboxFiles.ts";
import { makeRevision } from "./makeRevision.ts";
import { isPassing } from "./passing.ts";
import { type ReadyLog, readClaim } from "./readClaim.ts";
import { rejectClaim } from "./rejectClaim.ts";

/** So often a single file may refuse to be read before it is rejected; the others go on meanwhile. */
const MOST_READS = 3;

/** Remembers between rounds which claimed files could not be read, and how often. */
export type ReadTroubles = Map<string, number>;

/**
 * Works through what is claimed: reads each file, gives it to its chain, makes one revision of each chain. A second log of
 * one name, and the same bytes under a second name, stay claimed for the next round. What a passing trouble interrupts
 * stays claimed, and the error is thrown for whoever waits and tries again.
 * A long queue gives way to newcomers: the round ends early when the inbox has some, and what `came` (claims by id) goes first.
 */
export async function workOff(
  context: RunContext,
  tally: Tally,
  troubles: ReadTroubles,
  came: ReadonlySet<string> = new Set(),
): Promise<void> {
  const claims = await openClaims(context.effects, context.workspace.paths);
  if (claims.length === 0) return;
  const plans = await workspacePlans(context.effects, context.workspace.paths);
  const printer = forgiving(context.printer());
  const round: RoundContext = { ...context, plans, printer, tally };
  const started = context.effects.ticks();
  try {
    const { ready, trouble } = await readAll(round, claims, troubles);
    // What is read is read again in the next round: giving way must not cost more than the work that is done.
    const giveWayAt = context.effects.ticks() + GIVE_WAY_MS + 2 * (context.effects.ticks() - started);
    for (const work of newcomersFirst(await findChains(round, ready), came)) {
      if (context.signal.aborted) return;
      if (context.effects.ticks() > giveWayAt && (await hasNewcomers(context))) break;
      await context.beat("working");
      await revise(round, namesOnce(work), troubles);
    }
    if (trouble !== null) throw trouble;
  } finally {
    await printer.close();
  }
}

/** So long a round works before it looks whether somebody waits. */
const GIVE_WAY_MS = 5000;

const newcomersFirst = (works: readonly ChainWork[], came: ReadonlySet<string>): ChainWork[] => {
  const isNew = (work: ChainWork): boolean => work.logs.some(({ claimed }) => came.has(claimed.id));
  return [...works.filter(isNew), ...works.filter((work) => !isNew(work))];
};
const hasNewcomers = async ({ effects, workspace }: RunContext): Promise<boolean> =>
  (await inboxFiles(effects, workspace.paths, workspace.settings)).files.length > 0;

async function readAll(
  round: RoundContext,
  claims: readonly Claim[],
  troubles: ReadTroubles,
): Promise<{ ready: ReadyLog[]; trouble: unknown }> {
  const ready: ReadyLog[] = [];
  const hashes = new Set<string>();
  let trouble: unknown = null;
  for (const claimed of claims) {
    if (round.signal.aborted) break;
    await round.beat("reading");
    try {
      const log = await readClaim(round, claimed);
      // The same bytes under two names in one round: the second is looked at again when the first is known.
      if (log !== null && !hashes.has(log.sha256)) ready.push(log);
      if (log !== null) hashes.add(log.sha256);
    } catch (error) {
      if (!isPassing(error)) await rejectForBug(round, claimed, error);
      else if (await isStuck(round, claimed, troubles, error)) await rejectUnreadable(round, claimed, error);
      else trouble = error;
    }
  }
  return { ready, trouble };
}

/** Whether it is this file alone that cannot be read, time after time. */
async function isStuck(
  { effects, workspace }: RoundContext,
  claimed: Claim,
  troubles: ReadTroubles,
  error: unknown,
): Promise<boolean> {
  // Ledger, disk or share are no fault of this file.
  if ((error as NodeJS.ErrnoException).path !== claimed.path) return false;
  const count = (troubles.get(claimed.id) ?? 0) + 1;
  troubles.set(claimed.id, count);
  return (
    count >= MOST_READS &&
    (await effects.exists(workspace.paths.settings)) &&
    (await effects.exists(claimed.path))
  );
}
const rejectUnreadable = (round: RoundContext, claimed: Claim, error: unknown): Promise<null> =>
  rejectClaim(
    round,
    claimed,
    `${claimed.name}: the file cannot be read (${(error as NodeJS.ErrnoException).code}); give this user access to it and drop it again.`,
  );

/** One revision. A bug or a changed archive is no reason to stop the queue: the logs are kept with what happened. */
async function revise(round: RoundContext, work: ChainWork, troubles: ReadTroubles): Promise<void> {
  try {
    await makeRevision(round, work);
  } catch (error) {
    if (isPassing(error)) throw error;
    if (wasFirst(error) && isFirstTrouble(work, troubles)) return;
    for (const { claimed } of work.logs)
      if (await round.effects.exists(claimed.path)) await rejectForBug(round, claimed, error);
  }
}
/** Somebody else wrote the same into the ledger: looking again finds it there. */
const wasFirst = (error: unknown): boolean => /UNIQUE constraint|SQLITE_CONSTRAINT/.test(String(error));
function isFirstTrouble({ logs: [first] }: ChainWork, troubles: ReadTroubles): boolean {
  const key = `chain of ${first?.claimed.id}`;
  const count = (troubles.get(key) ?? 0) + 1;
  troubles.set(key, count);
  return count < MOST_READS;
}

async function rejectForBug(round: RoundContext, claimed: Claim, error: unknown): Promise<void> {
  if (isFatal(error)) throw error;
  const words = error instanceof Error ? error.message : String(error);
  await round.log.note("bug", `${claimed.name}: ${words}`, {
    name: claimed.name,
    stack: error instanceof Error ? error.stack : null,
  });
  await rejectClaim(
    round,
    claimed,
    `${claimed.name}: it could not be worked on: ${words}. The run log in .plinth/log says more.`,
  );
}
/** A damaged ledger is nobody's log's fault, and no log may be judged without it. */
const isFatal = (error: unknown): boolean =>
  /SQLITE_(CORRUPT|NOTADB)|malformed|not a database/.test(
    String((error as { code?: string }).code) + String(error),
  );

/** A chain's logs with each name once, the first of each, so that every log comes to stand in a revision. */
function namesOnce(work: ChainWork): ChainWork {
  const names = new Set<string>();
  return { ...work, logs: work.logs.filter(({ claimed: { name } }) => !names.has(name) && names.add(name)) };
}

/** A page that cannot be printed does not hold up the report: JSON and HTML say the same. */
function forgiving(printer: PdfMaker): PdfMaker {
  return {
    async print(html, report, page) {
      try {
        return await printer.print(html, report, page);
      } catch (error) {
        if (isPassing(error)) throw error;
        return {
          sentence: `the page could not be printed (${error instanceof Error ? error.message : String(error)}).`,
        };
      }
    },
    close: () => printer.close(),
  };
}
