#!/usr/bin/env node
import { exitCodeOf, wordError } from "./errors.ts";
import { program } from "./program.ts";

// A closed pipe (`plinth check ... | head`) is the reader's choice, not an error.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(0);
  throw error;
});

try {
  await program().parseAsync(process.argv);
} catch (error) {
  process.stderr.write(`${wordError(error)}\n`);
  process.exitCode = exitCodeOf(error);
}
