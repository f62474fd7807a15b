import { namePart } from "./namePart.ts";

/** JOB_OPERATION_PLAN, with _SETUP when the header has one. */
export function reportId(setup: Readonly<Record<string, string>>, planName: string): string {
  const given = (key: string, missing: string): string => namePart(setup[key]?.trim() || missing);
  const parts = [given("job", "no-job"), given("operation", "no-operation"), namePart(planName)];
  return [...parts, ...(setup.setup?.trim() ? [namePart(setup.setup.trim())] : [])].join("_");
}
