import type { Plan } from "../model/plan/plan.ts";
import { type Notebook, quotable, type Refusal } from "./notebook.ts";

interface Run<Rows> {
  readonly rows: Rows;
  readonly line: number;
}
export interface Measured<Rows> {
  readonly name: string;
  readonly rows: Rows;
  /** Later touches of the same feature, to see whether anything moved meanwhile. */
  readonly closure: Rows | null;
}

/** Rows of one feature that stand together; a return to a feature starts another run of it. */
export class Runs<Rows> {
  readonly #runs = new Map<string, Run<Rows>[]>();
  readonly #make: () => Rows;
  #name: string | null = null;
  #rows: Rows | null = null;

  constructor(make: () => Rows) {
    this.#make = make;
  }

  /** The rows that a row of feature `name` in this line joins. */
  at(name: string, line: number): Rows {
    if (this.#name === name && this.#rows !== null) return this.#rows;
    const rows = this.#make();
    const runs = this.#runs.get(name);
    if (runs === undefined) this.#runs.set(name, [{ rows, line }]);
    else runs.push({ rows, line });
    this.#name = name;
    this.#rows = rows;
    return rows;
  }

  /** One entry for each feature with the closure that plan or name declare; any other return is refused. */
  settle(plan: Plan | null, notes: Notebook): readonly Measured<Rows>[] | Refusal {
    const measured: Measured<Rows>[] = [];
    for (const [name, [first, ...later]] of this.#runs) {
      if (first === undefined || this.#isClosureName(name, plan)) continue;
      const named = this.#runs.get(`${name}-closure`)?.at(-1);
      const last = later.at(-1);
      if (last !== undefined && plan?.closure.includes(name) !== true)
        return notes.refuse(
          "feature-twice",
          "{name} is measured again here after other rows; if this is a closure, say closure: {name} in the plan or name these rows {name}-closure, else give the rows a name of their own",
          { name: quotable(name) },
          { line: later[0]?.line ?? last.line, feature: name },
        );
      const closure = last ?? (this.#isClosureName(`${name}-closure`, plan) ? named : undefined);
      if (closure !== undefined)
        notes.decide(
          "closure",
          name,
          last !== undefined
            ? `declared in the plan; lines from ${closure.line}`
            : `rows named ${name}-closure from line ${closure.line}`,
        );
      measured.push({ name, rows: first.rows, closure: closure?.rows ?? null });
    }
    return measured;
  }

  #isClosureName(name: string, plan: Plan | null): boolean {
    const of = name.replace(/-closure$/, "");
    return of !== name && this.#runs.has(of) && !(plan !== null && Object.hasOwn(plan.features, name));
  }
}
