#!/usr/bin/env node
import { exitCodeOf, wordError } from "./errors.ts";
import { guardStreams } from "./guardStreams.ts";
import { program } from "./program.ts";

guardStreams();

try {
  await program().parseAsync(process.argv);
} catch (error) {
  const words = wordError(error);
  if (words !== "") process.stderr.write(`${words}\n`);
  process.exitCode = exitCodeOf(error);
}
