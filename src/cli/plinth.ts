import { exitCodeOf, wordError } from "./errors.ts";
import { guardStreams } from "./guardStreams.ts";
import { program } from "./program.ts";

/** The commands that only answer. */
declare const PLINTH_ANSWERS: readonly string[];

guardStreams();
program()
  .parseAsync(process.argv)
  .catch((error: unknown) => {
    const words = wordError(error);
    if (words !== "") process.stderr.write(`${words}\n`);
    process.exitCode = exitCodeOf(error);
  })
  .then(() => {
    if (PLINTH_ANSWERS.includes(process.argv[2] ?? "")) endAtOnce();
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
