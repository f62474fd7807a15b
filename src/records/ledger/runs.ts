import type { Ledger } from "./openLedger.ts";

/** Notes that a run has begun. Its id stands in every line of the run log. */
export async function startRun(
  ledger: Ledger,
  run: { readonly id: string; readonly what: string; readonly started: string },
): Promise<void> {
  await ledger.transact(async (tables) => {
    await tables
      .insertInto("run")
      .values({ ...run, ended: null, accepted: 0, rejected: 0, reports: 0 })
      .execute();
  });
}

/** Notes what a run has done when it ends. A run without an end was cut off. */
export async function endRun(
  ledger: Ledger,
  id: string,
  done: {
    readonly ended: string;
    readonly accepted: number;
    readonly rejected: number;
    readonly reports: number;
  },
): Promise<void> {
  await ledger.transact(async (tables) => {
    await tables.updateTable("run").set(done).where("id", "=", id).execute();
  });
}

/** Whether no run was ever noted: a ledger fresh from its making. */
export async function isUnused({ tables }: Ledger): Promise<boolean> {
  return (await tables.selectFrom("run").select("id").limit(1).executeTakeFirst()) === undefined;
}
