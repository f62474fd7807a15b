// Takes today's printed pages as the references: `npm run accept-pages`. They are looked at before they are committed.
import { fileURLToPath } from "node:url";
import { bundled } from "../bundled.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
for (const name of await bundled(new URL("renew.ts", import.meta.url), ({ renewReferences }) =>
  renewReferences(here),
))
  console.log(`tests/visual/${name}`);
