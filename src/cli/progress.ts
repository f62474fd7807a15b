import { takesEscapes, write } from "./streams.ts";

const SHOW_AFTER_MS = 1000;

/** A bar on a terminal once work has lasted a second; nothing in a pipe or when quiet. */
export interface Progress {
  step(): void;
  done(): void;
}

/** `total` steps of `what`. The bar's code is loaded only when it is going to be shown. */
export function progress(what: string, total: number, quiet: boolean): Progress {
  if (quiet || total < 2 || !takesEscapes("stderr")) return { step() {}, done() {} };
  let count = 0;
  let bar: { update(value: number): void; stop(): void } | null = null;
  let over = false;
  const timer = setTimeout(async () => {
    const { SingleBar } = await import("cli-progress");
    if (over) return;
    const single = new SingleBar({
      format: `${what} {bar} {value}/{total}`,
      clearOnComplete: true,
      // Switched off, it would stay so in a terminal whose run is stopped.
      linewrap: true,
      stream: process.stderr,
    });
    single.start(total, count);
    bar = single;
  }, SHOW_AFTER_MS);
  timer.unref();
  return {
    step() {
      count++;
      bar?.update(count);
    },
    done() {
      over = true;
      clearTimeout(timer);
      bar?.stop();
    },
  };
}

const LONG_LOG_BYTES = 5_000_000;

/**
 * Says on a terminal that large logs are being worked out, while `work` runs; the line is taken away afterwards. A single
 * log is one piece of work without steps that could be counted.
 */
export async function workingOut<T>(
  logs: readonly { readonly bytes: { readonly length: number } }[],
  quiet: boolean,
  work: () => T | Promise<T>,
): Promise<T> {
  const bytes = logs.reduce((sum, log) => sum + log.bytes.length, 0);
  if (quiet || bytes < LONG_LOG_BYTES || !takesEscapes("stderr")) return work();
  write("stderr", `working out ${Math.round(bytes / 1e6)} MB of logs ...`);
  try {
    return await work();
  } finally {
    write("stderr", "\r\u001b[K");
  }
}
