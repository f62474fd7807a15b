import type { Adapter } from "./contract.ts";
import { isTitledBlocks } from "./isTitledBlocks.ts";
import { readTables } from "./readTables.ts";

/** The summary of a measuring routine: diameter and centre without the touches behind them. */
export const resultsTable: Adapter = {
  id: "results-table",
  recognise(source) {
    const [head] = source.survey.heads;
    return head?.kind.kind === "results" && !isTitledBlocks(source.survey)
      ? `line ${head.line} names diameter, x and y`
      : null;
  },
  read: (source, notes) => readTables(source, notes, false),
};
