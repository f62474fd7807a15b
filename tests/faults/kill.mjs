// Kills the watcher at 200 random moments, or as many as asked: npm run kill -- 50. The seed is printed: npm run kill -- 50 SEED runs the same again.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const [kills = "200", seed = String(Date.now() % 2147483647)] = process.argv.slice(2);
console.log(`${kills} kills, seed ${seed}`);
const vitest = fileURLToPath(new URL("../../node_modules/vitest/vitest.mjs", import.meta.url));
const given = [
  "run",
  "--config",
  "tests/vitest.config.ts",
  "tests/faults/processes.test.ts",
  "-t",
  "at random moments",
];
const { status } = spawnSync(process.execPath, [vitest, ...given], {
  cwd: fileURLToPath(new URL("../..", import.meta.url)),
  env: { ...process.env, PLINTH_KILLS: kills, PLINTH_SEED: seed },
  stdio: "inherit",
});
process.exitCode = status ?? 1;
