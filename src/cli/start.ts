#!/usr/bin/env node
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { Script } from "node:vm";

const file = fileURLToPath(new URL("plinth.cjs", import.meta.url));

/** What V8 made of the bundle when it was built; another version of it makes its own. */
function keptCode(): Buffer | undefined {
  try {
    return readFileSync(`${file}.code`);
  } catch {
    return undefined;
  }
}

const cachedData = keptCode();
const script = new Script(readFileSync(file, "latin1"), {
  filename: file,
  ...(cachedData && { cachedData }),
});
script.runInThisContext()(createRequire(file), file, (name: string) => import(name));
