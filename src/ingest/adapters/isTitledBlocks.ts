import type { Survey } from "../survey.ts";

/** Whether column names without one for the feature stand under a title that can name it. */
export const isTitledBlocks = (survey: Survey): boolean =>
  survey.heads.some((head) => !head.kind.named && head.title !== null);
