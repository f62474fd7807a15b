import { spawn } from "node:child_process";
import { type Delivery, type Parcel, type Try, theirWords } from "./courier.ts";

/** Of what a command says on stderr only so much is kept. */
const MOST_SAID_BYTES = 4096;
/** What a command ends with when it never wants this message again; as our own exit code for a rejected input. */
const REFUSED = 3;

export interface HookPlace {
  /** Folder in which the command starts. */
  readonly cwd: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Path of the sidecar as a file. */
  readonly sidecarPath: string;
}

/**
 * Runs a command without a shell, the paths of page and sidecar as its last two arguments. 0 is arrived, 3 is refused for good,
 * every other end is tried again; one that lasts too long is killed.
 */
export function runHook(
  [program = "", ...given]: readonly string[],
  parcel: Parcel,
  { cwd, environment, sidecarPath, ...once }: HookPlace & Try & { readonly timeoutMs: number },
): Promise<Delivery> {
  return new Promise((resolve) => {
    const child = spawn(program, [...given, parcel.page.path, sidecarPath], {
      cwd,
      env: {
        ...environment,
        PLINTH_EVENT: parcel.event,
        PLINTH_PAGE: parcel.page.path,
        PLINTH_SIDECAR: sidecarPath,
        PLINTH_RECORD: parcel.recordPath,
        PLINTH_IDEMPOTENCY_KEY: parcel.idempotencyKey,
        PLINTH_ATTEMPT: String(once.attempt),
      },
      shell: false,
      windowsHide: true,
      stdio: ["ignore", "ignore", "pipe"],
    });
    let said = Buffer.alloc(0);
    let why: string | null = null;
    const kill = (because: string): void => {
      why ??= because;
      child.kill("SIGKILL");
    };
    const timer = setTimeout(() => kill(`it did not end within ${once.timeoutMs / 1000} s`), once.timeoutMs);
    const stop = (): void => kill("this run was stopped");
    once.signal.addEventListener("abort", stop, { once: true });
    if (once.signal.aborted) stop();
    const end = (delivery: Delivery): void => {
      clearTimeout(timer);
      once.signal.removeEventListener("abort", stop);
      // A grandchild may hold the pipe open for as long as it likes.
      child.stderr.destroy();
      resolve(delivery);
    };
    child.stderr.on("data", (part: Buffer) => {
      if (said.length < MOST_SAID_BYTES) said = Buffer.concat([said, part]).subarray(0, MOST_SAID_BYTES);
    });
    child.stderr.on("error", () => undefined);
    child.on("error", (error) => end(again(startWords(program, error))));
    child.on("exit", (code, signal) => {
      // What it wrote last may still be on its way.
      setImmediate(() =>
        end(why === null ? judged(code, signal, theirWords(said.toString("utf8"))) : again(why)),
      );
    });
  });
}

function judged(code: number | null, signal: string | null, words: string): Delivery {
  if (code === 0) return { how: "arrived" };
  const said = `${code === null ? `it was ended by ${signal}` : `exit ${code}`}${words === "" ? "" : `: ${words}`}`;
  return code === REFUSED ? { how: "refused", because: said } : again(said);
}
const again = (because: string) => ({ how: "again", because, afterMs: 0 }) as const;
const startWords = (program: string, error: Error): string =>
  (error as NodeJS.ErrnoException).code === "ENOENT"
    ? `${program}: there is no such program`
    : `${program}: it cannot be started (${(error as NodeJS.ErrnoException).code ?? error.message})`;
