import { exitCodeOf, wordError } from "./errors.ts";
import { safe, tell } from "./output.ts";
import { program } from "./program.ts";
import { endAtOnce } from "./streams.ts";

/** Set by the bundler: whether this bundle holds the commands that only answer. */
declare const PLINTH_ONLY_ANSWERS: boolean;

program({ onlyAnswers: PLINTH_ONLY_ANSWERS })
  .parseAsync(process.argv)
  .catch((error: unknown) => {
    const words = wordError(error);
    if (words !== "") tell(safe(words));
    process.exitCode = exitCodeOf(error);
  })
  .then(() => {
    if (PLINTH_ONLY_ANSWERS) endAtOnce();
  });
