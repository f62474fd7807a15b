import type { SaidFinding } from "../model/finding.ts";
import type { UnderstoodLog } from "../model/measurement.ts";
import { say } from "../model/say.ts";
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
 * Logs of one run by setup. What two logs state differently keeps them apart; a log that leaves a key out joins the
 * only setup it can belong to, with a warning where it states no job. Groups and logs keep the order given.
 */
export function groupBySetup(logs: readonly UnderstoodLog[]): readonly SetupGroup[] {
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
    const joined = joinedFinding(group, logs, identities);
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

/** What the members of a group leave out and therefore share only because they came together. */
function joinedFinding(
  { members }: Growing,
  logs: readonly UnderstoodLog[],
  identities: readonly Identity[],
): SaidFinding | null {
  if (members.length < 2) return null;
  const missing = IDENTITY_KEYS.filter((key) => {
    const without = members.filter((at) => identities[at]?.[key] === undefined).length;
    // A key that nobody states is no question unless it is what names the setup.
    return without > 0 && (without < members.length || key === "job");
  });
  const named = (at: number): string => quotable(logs[at]?.record.name ?? "");
  const joined = members.filter((at) => missing.some((key) => identities[at]?.[key] === undefined));
  if (joined.length === 0) {
    if (members.every((at) => identities[at]?.setup !== undefined)) return null;
    return {
      level: "note",
      code: "joined-logs",
      text: say(
        "{logs} state the same job and no setup number; they were joined because they came together",
        {
          logs: listed(members.map(named)),
        },
      ),
    };
  }
  const others = members.filter((at) => !joined.includes(at));
  const why = missing.join(", ");
  const identifying = missing.some((key) => key === "job" || key === "setup" || key === "serial");
  return {
    level: identifying ? "warning" : "note",
    code: "joined-logs",
    text:
      others.length === 0
        ? say("{logs} do not state {missing}; they were joined because they came together", {
            logs: listed(joined.map(named)),
            missing: why,
          })
        : say("{logs} do not state {missing}; they were joined to {others} because they came together", {
            logs: listed(joined.map(named)),
            missing: why,
            others: listed(others.map(named)),
          }),
  };
}
