import type { Adapter } from "./contract.ts";
import { isTitledBlocks } from "./isTitledBlocks.ts";
import { readTables } from "./readTables.ts";

/** Tables under titles, such as a line `FACE B90` and below it the column names `angle,reading`. */
export const blocks: Adapter = {
  id: "blocks",
  recognise(source) {
    const titled = source.survey.heads.filter((head) => head.title !== null);
    return isTitledBlocks(source.survey)
      ? `${titled.length === 1 ? "a title stands" : `${titled.length} titles stand`} above column names without a name for the feature`
      : null;
  },
  read: (source, notes) => readTables(source, notes, true),
};
