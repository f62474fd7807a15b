import type { HealthCheck } from "./contract.ts";

export const healthChecks: readonly HealthCheck[] = [];
