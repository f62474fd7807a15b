import { EXIT, wordError } from "./errors.ts";

/**
 * Ends quietly when the reader of stdout or stderr goes away (`plinth check ... | head`): that is the reader's choice, and the
 * exit code that was reached stands. Any other trouble in writing, such as a full disk behind `>`, is told and exits 4.
 */
export function guardStreams(): void {
  for (const stream of [process.stdout, process.stderr])
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code === "EPIPE") process.exit();
      if (stream === process.stdout)
        process.stderr.write(`${wordError(Object.assign(error, { path: "what was printed" }))}\n`);
      process.exit(EXIT.unreachable);
    });
}
