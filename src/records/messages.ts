import { join } from "node:path";
import type { Digest } from "../model/digest.ts";
import type { DurableEffects } from "../model/effects.ts";
import type { OwedMessage } from "../model/message.ts";
import type { NotifyEvent, NotifyTarget } from "../model/notify.ts";
import type { SetupReport } from "../model/setupReport.ts";
import type { OutboxMessage } from "./ledger/outbox.ts";
import { sha256Of } from "./readLogs.ts";
import type { Workspace } from "./workspace.ts";

/** What is owed once a revision is accepted: one message to each target that wants reports. */
export function reportMessages(
  effects: DurableEffects,
  workspace: Workspace,
  { report: { report }, base, jsonSha256 }: { report: SetupReport; base: string; jsonSha256: string },
): Promise<OutboxMessage[]> {
  const subject = `report ${report.id} r${report.revision}`;
  return messagesFor(effects, workspace, { event: "report", subject, base, jsonSha256 });
}

/** What is owed once a digest is written. */
export async function digestMessages(
  effects: DurableEffects,
  workspace: Workspace,
  { date }: Digest,
): Promise<OutboxMessage[]> {
  const base = `reports/digests/${date}`;
  const jsonSha256 = sha256Of(await effects.readFile(join(workspace.paths.root, `${base}.json`)));
  return messagesFor(effects, workspace, { event: "digest", subject: `digest ${date}`, base, jsonSha256 });
}

interface About {
  readonly event: NotifyEvent;
  readonly subject: string;
  readonly base: string;
  readonly jsonSha256: string;
}
async function messagesFor(
  effects: DurableEffects,
  { paths, settings }: Workspace,
  { event, subject, base, jsonSha256 }: About,
): Promise<OutboxMessage[]> {
  const targets = settings.notify.filter(({ on }) => on.includes(event));
  if (targets.length === 0) return [];
  const printed = await effects.exists(join(paths.root, `${base}.pdf`));
  const owed: OwedMessage = { event, base, page: printed ? "pdf" : "html", jsonSha256 };
  const due = new Date(effects.now()).toISOString();
  return targets.map((target) => ({
    idempotencyKey: keyOf(target, owed),
    target: target.name,
    subject,
    message: JSON.stringify(owed),
    due,
  }));
}

/** Made of what is told to whom, never of chance: a crash, a restart and a rebuilt ledger give the same. */
const keyOf = ({ name }: NotifyTarget, { event, base, jsonSha256 }: OwedMessage): string =>
  sha256Of(JSON.stringify([name, event, base, jsonSha256])).slice(0, 32);
