import { bareReadings } from "./bareReadings.ts";
import { blocks } from "./blocks.ts";
import type { Adapter } from "./contract.ts";
import { csv } from "./csv.ts";
import { keyValue } from "./keyValue.ts";
import { printedText } from "./printedText.ts";
import { resultsTable } from "./resultsTable.ts";

/** Every shape of log that is understood. */
export const ADAPTERS: readonly Adapter[] = [csv, resultsTable, blocks, printedText, keyValue, bareReadings];
