import { say } from "../../model/say.ts";
import { placeOf } from "../judging/measuredOf.ts";
import type { HealthCheck } from "./contract.ts";

const folded = (name: string): string =>
  name
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, "");

/**
 * A log of one machine under a plan that states the sense of B for another: builders do not all turn the same way, and
 * with the wrong sense every move that rests on it doubles the error. Logs of different machines never stand together, so
 * one of them is enough.
 */
export const otherMachine: HealthCheck = {
  code: "other-machine",
  check({ plan, set }) {
    const { name, bSense } = plan.machine;
    if (name === null || bSense === null) return [];
    const other = set.logs.find(({ header }) => {
      const machine = header.machine ?? "";
      return machine !== "" && folded(machine) !== folded(name);
    });
    if (other === undefined) return [];
    return [
      {
        finding: {
          level: "warning",
          code: "other-machine",
          text: say("The log is of machine {machine}; the plan's sense of B is stated for {planned}.", {
            machine: other.header.machine ?? "",
            planned: name,
          }),
          hint: say(
            "Prove which way B turns on this machine and give it a plan of its own, or correct machine in the log or the plan.",
            {},
          ),
          ...placeOf(other),
        },
        undecides: [],
      },
    ];
  },
};
