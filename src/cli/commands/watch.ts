import { durableEffects } from "../../records/durableEffects.ts";
import { openWorkspace } from "../../records/workspace.ts";
import { watch as watchWorkspace } from "../../runs/watch.ts";
import { print, safe, tell } from "../output.ts";
import { type FailOn, verdictExit } from "../verdictExit.ts";

export interface WatchOptions {
  readonly workspace?: string;
  readonly once?: true;
  readonly resend?: true;
  readonly failOn?: FailOn;
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth watch`: the inbox, until stopped; with `--once` until it is empty. */
export async function watch(options: WatchOptions): Promise<void> {
  const effects = durableEffects();
  const workspace = await openWorkspace(effects, options.workspace);
  const stop = new AbortController();
  // The window that is closed hangs up (SIGHUP). A second signal ends the process at once, as if there were no handler.
  for (const signal of ["SIGTERM", "SIGINT", "SIGHUP"] as const) process.once(signal, () => stop.abort());
  const result = await watchWorkspace(effects, workspace, {
    once: options.once === true,
    resend: options.resend === true,
    signal: stop.signal,
    tell: options.quiet ? () => undefined : (sentence) => tell(safe(sentence)),
  });
  if (options.json) print(JSON.stringify(result, null, 1));
  // Without --once rejects and verdicts are told as they come; being stopped is no failure.
  process.exitCode = options.once ? verdictExit(result.reports, result.rejected > 0, options.failOn) : 0;
}
