import { program } from "./program.ts";
import { run } from "./run.ts";

run(program());
