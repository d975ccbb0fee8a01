/**
 * How numbers become text inside a sentence. `core` knows no units and no
 * locale, so the catalogue is handed a wording; `units/format` supplies the one
 * used on screen. {@link plainWording} is the fallback for logs and tests.
 */
export interface Wording {
  /** A number with at most `digits` significant digits (default 4). */
  number(value: number, digits?: number): string;
  /** A computed figure with its unit, no finer than the unit allows. */
  amount(value: number, unit: string): string;
  /** An estimate with its unit and 95 % interval, in the one style. */
  interval(value: number, lower: number, upper: number, unit: string): string;
  /** The same as two texts without the unit, rounded alike; an end that is open is null. */
  rounded(value: number, lower: number | null, upper: number | null, unit: string): Rounded;
  /** An instant (epoch ms) as a readable local date and time. */
  instant(epochMs: number): string;
  /** A text as it is, but a day (`YYYY-MM-DD`) as people write it. */
  text(value: string): string;
  /** A list of names or numbers: "a, b and c". */
  list(items: readonly (string | number)[]): string;
}

/** An estimate and its interval ("−89 to 54"), rounded alike. */
export interface Rounded {
  readonly value: string;
  readonly range: string;
}

export const plainWording: Wording = {
  number: (value, digits = 4) => String(Number(value.toPrecision(digits))),
  amount: (value, unit) => `${plainWording.number(value, 3)} ${unit}`,
  interval: (value, lower, upper, unit) => {
    const { number } = plainWording;
    return `${number(value, 3)} ${unit} (${number(lower, 3)} to ${number(upper, 3)})`;
  },
  rounded: (value, lower, upper) => {
    const end = (x: number | null) => (x === null ? "without limit" : plainWording.number(x, 3));
    return { value: plainWording.number(value, 3), range: `${end(lower)} to ${end(upper)}` };
  },
  text: (value) => value,
  instant: (epochMs) => `${new Date(epochMs).toISOString().slice(0, 16).replace("T", " ")} UTC`,
  list: (items) =>
    items.length < 2
      ? items.join("")
      : `${items.slice(0, -1).join(", ")} and ${String(items[items.length - 1])}`,
};

/** What a notice may carry under one name: plain data that survives JSON. */
export type NoticeParameter = string | number | boolean | null | readonly (string | number)[];

/**
 * What a sentence is given: the parameters of its notice, by name. A name that
 * is not declared does not compile; one that is blank shows as "?".
 *
 * @example "records-refused-more": (p: Given<{ refused: number; offered: number }>) => `${p.number("refused")} g`
 */
export interface Given<P> {
  text(name: keyof P & string): string;
  number(name: NamesOf<P, number>, digits?: number): string;
  amount(name: NamesOf<P, number>, unit: string): string;
  /** An estimate and the ends of its 95 % interval. */
  interval(
    name: NamesOf<P, number>,
    lower: NamesOf<P, number>,
    upper: NamesOf<P, number>,
    unit: string,
  ): string;
  /** The same without unit and brackets, for sentences that say more beside it; "?" for what is not known. */
  rounded(
    name: NamesOf<P, number>,
    lower: NamesOf<P, number>,
    upper: NamesOf<P, number>,
    unit: string,
  ): Rounded;
  /** An estimate and its standard error, as the interval of 1.96 of them to either side. */
  estimate(name: NamesOf<P, number>, error: NamesOf<P, number>, unit: string): string;
  /** "18 to 21", and "25" where both ends read alike. */
  range(low: NamesOf<P, number>, high: NamesOf<P, number>, digits?: number): string;
  /** "1 feed", "2 feeds"; a plural that does more than take an s is given. */
  count(name: NamesOf<P, number>, one: string, many?: string): string;
  /** A word that agrees with a number: "is" with one, "are" with any other. */
  agree(name: NamesOf<P, number>, one: string, many: string): string;
  instant(name: NamesOf<P, number>): string;
  list(name: NamesOf<P, readonly (string | number)[]>): string;
  raw<N extends keyof P>(name: N): P[N];
}

/** The same for a phrase that several sentences share, whatever else each of them is given. */
export type GivenAmong<P> = Pick<Given<P>, keyof Given<P>>;

/** One entry of the catalogue: what it is given in, one sentence out. */
export type Sentence = (p: never) => string;

/** The names under which something of that type may stand. */
type NamesOf<P, T> = {
  [N in keyof P]-?: [Extract<P[N], T>] extends [never] ? never : N;
}[keyof P] &
  string;
