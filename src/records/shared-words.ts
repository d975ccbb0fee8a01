/**
 * The words of a study, each kept once and known by a number: a million rows name
 * the same animals, diets and scales. 0 stands for a blank.
 */
export class SharedWords {
  private readonly texts: (string | null)[] = [null];
  private readonly codes = new Map<string, number>();

  /** The number of a text; a new one is kept apart from the file it was cut from. */
  codeOf(text: string): number {
    const known = this.codes.get(text);
    if (known !== undefined) return known;
    const own = ownText(text);
    const code = this.texts.push(own) - 1;
    this.codes.set(own, code);
    return code;
  }

  /** No new words come: what finds their numbers is let go. */
  close(): void {
    this.codes.clear();
  }

  textOf(code: number): string | null {
    return this.texts[code]!;
  }
}

/** A copy that does not keep alive the long text it may be a piece of. */
export const ownText = (text: string): string =>
  text.length < SHORTEST_PIECE ? text : ` ${text}`.slice(1);

/** Shorter pieces of a text are copies of their own. */
const SHORTEST_PIECE = 13;
