#!/usr/bin/env node
// The command line starts here, as CommonJS: the loader of modules costs more time than the code that is kept saves.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Script } from "node:vm";

/** The commands that only answer; theirs is a bundle of its own, because who asks at the machine waits. */
const ANSWERS: readonly (string | undefined)[] = ["check", "look"];

const file = join(__dirname, ANSWERS.includes(process.argv[2]) ? "answers.cjs" : "plinth.cjs");

/** What V8 made of the bundle when it was built; another version of it makes its own. */
function keptCode(): Buffer | undefined {
  try {
    return readFileSync(`${file}.code`);
  } catch {
    return undefined;
  }
}

/** Parts of node that few commands use, each with parts of its own: loaded when one of their functions is asked for. */
const SELDOM = ["node:child_process", "node:crypto", "node:fs/promises", "node:worker_threads", "node:zlib"];
const load = (name: string): unknown =>
  SELDOM.includes(name) ? new Proxy({}, { get: (_, key) => require(name)[key] }) : require(name);

const cachedData = keptCode();
const script = new Script(readFileSync(file, "latin1"), {
  filename: file,
  ...(cachedData && { cachedData }),
});
script.runInThisContext()(Object.assign(load, require), file, (name: string) => import(name));
