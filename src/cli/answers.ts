import { answering } from "./answering.ts";
import { check } from "./commands/check.ts";
import { look } from "./commands/look.ts";
import { run } from "./run.ts";
import { endAtOnce } from "./streams.ts";

run(answering({ check, look })).then(endAtOnce);
