import { diskEffects } from "../../records/diskEffects.ts";
import { read, readLogs, sha256Of } from "../../records/readLogs.ts";
import { verifyFile } from "../../records/verifyFile.ts";
import { EXIT } from "../errors.ts";
import { print, safe, styleFor } from "../output.ts";

export interface VerifyOptions {
  readonly log?: readonly string[];
  readonly json?: true;
  readonly quiet?: true;
}

/** `plinth verify`: recomputes a report from what it encloses and says whether it belongs together. */
export async function verify(path: string, options: VerifyOptions): Promise<void> {
  const effects = diskEffects();
  const bytes = await read(effects, path);
  const logs = options.log === undefined ? [] : await readLogs(effects, options.log);
  const result = await verifyFile(bytes, logs);
  const sentences =
    result.ok === true ? result.proved : [result.ok === null ? result.sentence : result.because];
  const word = result.ok === true ? "ACCEPTED" : result.ok === null ? "NOT TOLD" : "REFUSED";
  if (options.json)
    print(
      JSON.stringify(
        { file: path, sha256: sha256Of(bytes), accepted: result.ok, because: sentences },
        null,
        1,
      ),
    );
  else if (!options.quiet || result.ok !== true) {
    const { inverse } = styleFor(process.stdout);
    const lines = [
      `${inverse(` ${word} `)}  ${path}`,
      ...sentences.map((sentence) => `  ${sentence}`),
      `  SHA-256 ${sha256Of(bytes)}`,
    ];
    if (result.ok === true)
      lines.push("  This proves that report, logs and plan belong together, not who made them.");
    print(safe(lines.join("\n")));
  }
  process.exitCode = result.ok === true ? EXIT.done : result.ok === null ? EXIT.unreachable : EXIT.rejected;
}
