import type { SaidFinding } from "../model/finding.ts";
import type { UnderstoodLog } from "../model/measurement.ts";
import { type Said, say } from "../model/say.ts";
import { listed, quotable } from "./notebook.ts";
import { differingKey, IDENTITY_KEYS, type Identity, identityOf } from "./setupIdentity.ts";

/** Logs that make one report. */
export interface SetupGroup {
  readonly logs: readonly UnderstoodLog[];
  /** What the logs together say about the setup they belong to. */
  readonly identity: Identity;
  /** What was joined although a log did not say so. */
  readonly findings: readonly SaidFinding[];
}
interface Growing {
  identity: Identity;
  readonly members: number[];
  readonly findings: SaidFinding[];
}

/**
 * Logs by setup. What two logs state differently keeps them apart; a log that leaves a key out joins the
 * only setup it can belong to, with a warning where it states no job or came later. Groups and logs keep the order given.
 * @param earlier hashes of logs that stood in a report already when the others came
 */
export function groupBySetup(
  logs: readonly UnderstoodLog[],
  earlier: ReadonlySet<string> = new Set(),
): readonly SetupGroup[] {
  const identities = logs.map((log) => identityOf(log.record));
  const stated = (at: number): number => Object.keys(identities[at] ?? {}).length;
  const order = logs.map((_, at) => at).sort((one, other) => stated(other) - stated(one) || one - other);
  const groups: Growing[] = [];
  for (const at of order) {
    const identity = identities[at] ?? {};
    const fitting = groups.filter((group) => differingKey(group.identity, identity) === null);
    const [only] = fitting;
    if (only !== undefined && fitting.length === 1) {
      only.members.push(at);
      only.identity = { ...identity, ...only.identity };
      continue;
    }
    const alone: Growing = { identity, members: [at], findings: [] };
    if (fitting.length > 1) alone.findings.push(undecidable(logs[at], fitting, logs));
    groups.push(alone);
  }
  for (const group of groups) {
    group.members.sort((one, other) => one - other);
    const joined = joinedFinding(group, { logs, identities, earlier });
    if (joined !== null) group.findings.push(joined);
  }
  return groups
    .sort((one, other) => (one.members[0] ?? 0) - (other.members[0] ?? 0))
    .map(({ members, identity, findings }) => ({
      logs: members.flatMap((at) => logs[at] ?? []),
      identity,
      findings,
    }));
}

function undecidable(
  log: UnderstoodLog | undefined,
  fitting: readonly Growing[],
  logs: readonly UnderstoodLog[],
): SaidFinding {
  const name = log?.record.name ?? "";
  return {
    level: "warning",
    code: "setup-unclear",
    text: say(
      "{name} could belong to the setup of {others}, so it stands alone; add its job and setup to its header",
      {
        name: quotable(name),
        others: listed(
          fitting.map((group) => quotable(logs[group.members[0] ?? 0]?.record.name ?? "")),
          "or",
        ),
      },
    ),
    log: name,
  };
}

interface Came {
  readonly logs: readonly UnderstoodLog[];
  readonly identities: readonly Identity[];
  readonly earlier: ReadonlySet<string>;
}
/** What the members of a group leave out and therefore share only because they came together, or one after the other. */
function joinedFinding({ members }: Growing, { logs, identities, earlier }: Came): SaidFinding | null {
  if (members.length < 2) return null;
  const missing = IDENTITY_KEYS.filter((key) => {
    const without = members.filter((at) => identities[at]?.[key] === undefined).length;
    // A key that nobody states is no question unless it is what names the setup.
    return without > 0 && (without < members.length || key === "job");
  });
  const joined = members.filter((at) => missing.some((key) => identities[at]?.[key] === undefined));
  if (joined.length === 0 && members.every((at) => identities[at]?.setup !== undefined)) return null;
  const named = (some: readonly number[]): string =>
    listed(some.map((at) => quotable(logs[at]?.record.name ?? "")));
  // A hash is worked out when it is asked for; where nothing came earlier nobody needs one.
  const before = earlier.size === 0 ? [] : members.filter((at) => earlier.has(logs[at]?.record.sha256 ?? ""));
  const later = members.filter((at) => !before.includes(at));
  const values = { logs: named(joined.length === 0 ? members : joined), missing: missing.join(", ") };
  if (before.length > 0 && later.length > 0)
    return {
      level: "warning",
      code: "joined-logs",
      text: joinedLater({ ...values, earlier: named(before), later: named(later) }, joined.length),
    };
  const others = members.filter((at) => !joined.includes(at));
  const identifying = missing.some((key) => key === "job" || key === "setup" || key === "serial");
  return {
    level: identifying ? "warning" : "note",
    code: "joined-logs",
    text: joinedTogether({ ...values, others: named(others) }, joined.length, others.length),
  };
}

/** Logs that came when others stood in a report already: they did not come together, so that is no reason. */
function joinedLater(
  { logs, missing, earlier, later }: Record<Names | "earlier" | "later", string>,
  count: number,
): Said {
  if (count === 0)
    return say(
      "{later} came later and joined the report of {earlier}; they state the same job and no setup number",
      {
        later,
        earlier,
      },
    );
  const values = { later, earlier, logs, missing };
  return count === 1
    ? say(
        "{later} came later and joined the report of {earlier}, although {logs} does not state {missing}",
        values,
      )
    : say(
        "{later} came later and joined the report of {earlier}, although {logs} do not state {missing}",
        values,
      );
}
type Names = "logs" | "missing";

function joinedTogether(
  { logs, missing, others }: Record<Names | "others", string>,
  count: number,
  otherCount: number,
): Said {
  if (count === 0)
    return say("{logs} state the same job and no setup number; they were joined because they came together", {
      logs,
    });
  if (otherCount === 0)
    return say("{logs} do not state {missing}; they were joined because they came together", {
      logs,
      missing,
    });
  return count === 1
    ? say("{logs} does not state {missing}; it was joined to {others} because they came together", {
        logs,
        missing,
        others,
      })
    : say("{logs} do not state {missing}; they were joined to {others} because they came together", {
        logs,
        missing,
        others,
      });
}
