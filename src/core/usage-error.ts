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
    super(`${parts.where}: needed ${parts.needed}, but ${parts.came}. ${parts.todo}`);
    this.name = "UsageError";
    this.needed = parts.needed;
    this.came = parts.came;
    this.where = parts.where;
    this.todo = parts.todo;
  }
}
