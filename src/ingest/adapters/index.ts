import { blocks } from "./blocks.ts";
import type { Adapter } from "./contract.ts";
import { csv } from "./csv.ts";
import { resultsTable } from "./resultsTable.ts";

/** Every shape of log that is understood. */
export const ADAPTERS: readonly Adapter[] = [csv, resultsTable, blocks];
