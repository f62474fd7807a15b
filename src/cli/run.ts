import type { Command } from "commander";
import { exitCodeOf, wordError } from "./errors.ts";
import { safe, tell } from "./output.ts";

/** Runs the command that was asked for; what goes wrong becomes a sentence and an exit code. */
export async function run(commands: Command): Promise<void> {
  try {
    await commands.parseAsync(process.argv);
  } catch (error) {
    const words = wordError(error);
    if (words !== "") tell(safe(words));
    process.exitCode = exitCodeOf(error);
  }
}
