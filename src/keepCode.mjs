// Runs a command of the bundled command line and keeps the code that V8 made of it beside it. Called by the bundler with
// the path of the bundle and the command, in a process of its own.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { Script } from "node:vm";

const [, , file, ...command] = process.argv;
process.argv = [process.execPath, file, ...command];
const script = new Script(readFileSync(file, "latin1"), {
  filename: file,
});
script.runInThisContext()(createRequire(file), file, (name) => import(name));
process.on("exit", (code) => {
  // Verdicts have exit codes of their own, up to 2.
  if (code > 2) throw new Error(`the sample was not read: exit code ${code}`);
  writeFileSync(`${file}.code`, script.createCachedData());
  process.exitCode = 0;
});
