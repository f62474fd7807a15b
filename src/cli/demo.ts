import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { packageRoot } from "../records/assets.ts";
import { report } from "./commands/report.ts";
import { exitCodeOf, wordError } from "./errors.ts";
import { print, tell } from "./output.ts";

/** Turns every scenario of sample-logs into reports, as a newcomer's first run. */
async function demo(): Promise<void> {
  const samples = join(packageRoot(), "sample-logs");
  const folders = (await readdir(samples, { withFileTypes: true }))
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
  for (const name of folders) {
    const folder = join(samples, name);
    const plan = (await readdir(folder)).find((file) => file.endsWith(".yaml"));
    if (plan === undefined) continue;
    await report([folder], {
      plan: join(folder, plan),
      out: join(packageRoot(), "reports"),
      page: "a4",
      format: "json,html,pdf",
    });
    print("");
  }
  print(
    "Open the PDF or HTML files above. Next: npx plinth check LOG... --plan FILE answers on the terminal.",
  );
}

try {
  await demo();
} catch (error) {
  tell(wordError(error));
  process.exitCode = exitCodeOf(error);
}
