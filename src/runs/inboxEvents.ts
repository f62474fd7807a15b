import { basename } from "node:path";
import { watch as watchFolder } from "chokidar";

export interface InboxEvents {
  /** Ends when something has happened in the inbox since the last call, when time is up, or on stop. */
  next(timeoutMs: number, signal: AbortSignal): Promise<void>;
  close(): Promise<void>;
}

/**
 * Events are hints that save waiting: what is there is always found by looking. `polling` asks the file system again and
 * again, for shares where changes made by other machines come without an event.
 */
export function inboxEvents(inbox: string, polling: { readonly everyMs: number } | null): InboxEvents {
  let happened = false;
  let wake: () => void = () => undefined;
  const watcher = watchFolder(inbox, {
    depth: 0,
    ignoreInitial: true,
    followSymlinks: false,
    ignored: (path) => path !== inbox && /^\.|^rejected$/.test(basename(path)),
    ...(polling === null
      ? {}
      : { usePolling: true, interval: polling.everyMs, binaryInterval: polling.everyMs }),
  });
  // Add and change alike; a trouble is a reason to look too, and looking finds what it is.
  for (const event of ["all", "error"] as const)
    watcher.on(event, () => {
      happened = true;
      wake();
    });
  return {
    next(timeoutMs, signal) {
      return new Promise((resolve) => {
        const end = (): void => {
          clearTimeout(timer);
          signal.removeEventListener("abort", end);
          wake = () => undefined;
          happened = false;
          resolve();
        };
        const timer = setTimeout(end, timeoutMs);
        signal.addEventListener("abort", end);
        wake = end;
        if (happened || signal.aborted) end();
      });
    },
    close: () => watcher.close(),
  };
}
