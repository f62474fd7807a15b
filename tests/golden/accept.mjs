// Accepts what the road gives today as the golden records: `npm run accept`. The diff is read before it is committed.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { bundled } from "../bundled.mjs";

const records = fileURLToPath(new URL("records/", import.meta.url));
const samples = fileURLToPath(new URL("../../sample-logs/", import.meta.url));
await bundled(new URL("road.ts", import.meta.url), async ({ cases, kept, recordOf }) => {
  mkdirSync(records, { recursive: true });
  for (const name of cases(samples)) {
    writeFileSync(join(records, `${name}.json`), kept(await recordOf(join(samples, name))));
    console.log(`tests/golden/records/${name}.json`);
  }
});
