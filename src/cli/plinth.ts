#!/usr/bin/env node
import { exitCodeOf, wordError } from "./errors.ts";
import { guardStreams } from "./guardStreams.ts";
import { program } from "./program.ts";

guardStreams();

try {
  await program().parseAsync(process.argv);
} catch (error) {
  process.stderr.write(`${wordError(error)}\n`);
  process.exitCode = exitCodeOf(error);
}
