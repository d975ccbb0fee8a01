/**
 * A caller's mistake (a wrong option, an unknown animal, a missing folder).
 * Says what was needed, what came, where, and what to do. Bad data never throws
 * this: it becomes a set-aside row or a notice.
 */
export class UsageError extends Error {
  readonly needed: string;
  readonly came: string;
  readonly where: string;
  readonly todo: string;

  constructor(parts: {
    readonly needed: string;
    readonly came: string;
    readonly where: string;
    readonly todo: string;
  }) {
    const came = bareValue.test(parts.came) ? `${parts.came} was given` : parts.came;
    super(`${parts.where}: needed ${parts.needed}, but ${came}. ${parts.todo}`);
    this.name = "UsageError";
    this.needed = parts.needed;
    this.came = came;
    this.where = parts.where;
    this.todo = parts.todo;
  }

  static {
    // Printed whole, as notebooks and Node do, it is its sentence: where in here it was found helps nobody.
    Object.defineProperty(UsageError.prototype, Symbol.for("nodejs.util.inspect.custom"), {
      value(this: UsageError) {
        return `${this.name}: ${this.message}`;
      },
    });
  }
}

/** What was written and nothing more, which makes no sentence. */
const bareValue = /^"[^"]*"$/;
