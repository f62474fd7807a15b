/**
 * A mistake that a person can mend: one sentence that names the file, line or key, what was expected and what to do.
 * `kind` decides the exit code; only the command line prints it.
 */
export class Trouble extends Error {
  readonly kind: "usage" | "rejected" | "unreachable";
  constructor(kind: "usage" | "rejected" | "unreachable", text: string) {
    super(text);
    this.name = "Trouble";
    this.kind = kind;
  }
}
