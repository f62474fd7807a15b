import { exitCodeOf, wordError } from "./errors.ts";
import { guardStreams } from "./guardStreams.ts";
import { program } from "./program.ts";

/** Set by the bundler: whether this bundle holds the commands that only answer. */
declare const PLINTH_ONLY_ANSWERS: boolean;

guardStreams();
program()
  .parseAsync(process.argv)
  .catch((error: unknown) => {
    const words = wordError(error);
    if (words !== "") process.stderr.write(`${words}\n`);
    process.exitCode = exitCodeOf(error);
  })
  .then(() => {
    if (PLINTH_ONLY_ANSWERS) endAtOnce();
  });

/**
 * Ends when all is written, without waiting for code that is being made faster for a longer run. What could not be written
 * is told and ends it otherwise (`guardStreams`).
 */
function endAtOnce(): void {
  process.stdout.write("", (failed) => {
    if (!failed) process.stderr.write("", () => process.exit());
  });
}
