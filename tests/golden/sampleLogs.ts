import { publishedLogs } from "./published.ts";
import { scenarioLogs } from "./scenario.ts";

/** Every log below sample-logs: path and text. */
export const sampleLogs = (): Readonly<Record<string, string>> => ({ ...scenarioLogs(), ...publishedLogs() });
