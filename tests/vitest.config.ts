import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  test: {
    include: ["tests/**/*.test.ts"],
    globalSetup: ["tests/cli/globalSetup.ts"],
    testTimeout: 180_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
    reporters: ["default"],
  },
});
