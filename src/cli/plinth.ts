import { exitCodeOf, wordError } from "./errors.ts";
import { guardStreams } from "./guardStreams.ts";
import { program } from "./program.ts";

guardStreams();
program()
  .parseAsync(process.argv)
  .catch((error: unknown) => {
    const words = wordError(error);
    if (words !== "") process.stderr.write(`${words}\n`);
    process.exitCode = exitCodeOf(error);
  });
