import { homedir, tmpdir } from "node:os";
import { join } from "node:path";

/** The environment of a process, as `process.env` gives it. */
export type Environment = Readonly<Record<string, string | undefined>>;

function home(env: Environment): string | undefined {
  try {
    return env.HOME || homedir() || undefined;
  } catch {
    // A user without an entry in the user list has no home.
    return undefined;
  }
}

/**
 * The folders in which unpacked browsers may be kept, best first.
 * @param env the environment: PLINTH_CACHE alone counts when set, then XDG_CACHE_HOME, then the home
 * @param userId number of the user, or undefined where users have none; it keeps users apart in the shared
 *   temporary folder
 * @returns absolute paths; none of them need exist
 */
export function cacheFolders(env: Environment, userId: number | undefined): string[] {
  const own = env.PLINTH_CACHE;
  if (own) return [own];
  const folders: string[] = [];
  const xdg = env.XDG_CACHE_HOME;
  if (xdg) folders.push(join(xdg, "plinth"));
  const homeFolder = home(env);
  if (homeFolder) folders.push(join(homeFolder, ".cache", "plinth"));
  folders.push(join(tmpdir(), `plinth-${userId ?? "user"}`));
  return folders;
}
