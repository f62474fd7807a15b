import { join } from "node:path";
import type { DurableEffects } from "../model/effects.ts";
import type { WorkspacePaths } from "../records/workspace.ts";
import type { Courier } from "./courier.ts";
import { postParcel } from "./postParcel.ts";
import { runHook } from "./runHook.ts";

/** Posts to addresses and runs commands. `hiddenVariables` hold secrets that no command needs. */
export function realCourier(
  effects: DurableEffects,
  paths: WorkspacePaths,
  hiddenVariables: readonly string[],
): Courier {
  const environment = Object.fromEntries(
    Object.entries(effects.environment).filter(([name]) => !hiddenVariables.includes(name)),
  );
  return async ({ hook, timeoutMs }, parcel, once) => {
    if ("url" in hook) return postParcel(hook.url, parcel, { ...once, timeoutMs });
    const folder = join(paths.hidden, "outbox", parcel.idempotencyKey);
    const sidecarPath = join(folder, parcel.sidecar.name);
    await effects.writeFile(sidecarPath, parcel.sidecar.bytes);
    try {
      return await runHook(hook.command, parcel, {
        ...once,
        timeoutMs,
        cwd: paths.root,
        environment,
        sidecarPath,
      });
    } finally {
      await effects.disk.remove(sidecarPath).catch(() => undefined);
      await effects.disk.removeFolder(folder).catch(() => undefined);
    }
  };
}
