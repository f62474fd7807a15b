/** The library: logs in, setup report out. See DEVELOPERS.md for a runnable example. */
export { analyse, finishReport } from "./analysis/analyse.ts";
export { planKinds } from "./analysis/planKinds.ts";
export { groupBySetup } from "./ingest/groupBySetup.ts";
export { mergeLogs } from "./ingest/mergeLogs.ts";
export { understandLog } from "./ingest/understandLog.ts";
export type { LogFile, MeasurementSet, RejectedLog, UnderstoodLog } from "./model/measurement.ts";
export type { Plan } from "./model/plan/plan.ts";
export { readPlan } from "./model/plan/readPlan.ts";
export type { SetupReport, Verdict } from "./model/setupReport.ts";
export { makeReports } from "./records/makeReports.ts";
export { renderReport } from "./report/render.ts";
