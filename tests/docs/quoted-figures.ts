import { benchResult } from "../../docs/build/validation/bench-results.js";
import { earlyFigures, hardKindWords, healthyWords } from "./early-figures.js";

/** Words of a paper that state what a bench found, made anew from its committed result. */
export interface QuotedFigures {
  readonly paper: string;
  readonly bench: string;
  readonly words: string;
}

type Row = Readonly<Record<string, unknown>>;
const rowsOf = (bench: string, name = "rows") => benchResult(bench).data[name] as readonly Row[];
/** A number by its path. */
const at = (row: Row, path: string): number => {
  const found = path.split(".").reduce<unknown>((x, name) => (x as Row | null)?.[name], row);
  if (typeof found !== "number") throw new Error(`${path} is no number in ${JSON.stringify(row)}`);
  return found;
};
/** As a person rounds: 1.15, which no double holds, becomes 1.2. */
const fixed = (value: number, digits = 0) =>
  (Math.round(value * 10 ** digits + 1e-9) / 10 ** digits).toFixed(digits);
const pct = (share: number) => fixed(100 * share);
const low = (rows: readonly Row[], path: string) => Math.min(...rows.map((r) => at(r, path)));
const high = (rows: readonly Row[], path: string) => Math.max(...rows.map((r) => at(r, path)));
/** Means of every world, each row counted with its forecasts. */
const byWorld = (rows: readonly Row[], path: string) =>
  [...new Set(rows.map((r) => r["world"]))].map((world) => {
    const own = rows.filter((r) => r["world"] === world);
    const n = own.reduce((sum, r) => sum + at(r, "forecasts"), 0);
    return own.reduce((sum, r) => sum + at(r, path) * at(r, "forecasts"), 0) / n;
  });
const ends = (values: readonly number[], digits = 0) =>
  `${fixed(Math.min(...values), digits)} to ${fixed(Math.max(...values), digits)}`;
/** Shares of rows in 100: both ends, or the one that they share. */
const shares = (rows: readonly Row[], path: string) =>
  [...new Set([pct(low(rows, path)), pct(high(rows, path))])].join(" to ");
const where = (rows: readonly Row[], wanted: Row) =>
  rows.filter((r) => Object.entries(wanted).every(([key, value]) => r[key] === value));
const one = (rows: readonly Row[], wanted: Row): Row => {
  const found = where(rows, wanted);
  if (found.length !== 1) throw new Error(`${found.length} rows for ${JSON.stringify(wanted)}`);
  return found[0]!;
};

/** Every figure of a bench that README states. */
export function quotedFigures(): QuotedFigures[] {
  const quotes: QuotedFigures[] = [];
  const quote = (bench: string, ...words: string[]) =>
    quotes.push(...words.map((each) => ({ paper: "README.md", bench, words: each })));
  const early = earlyFigures();
  quote("early", ...early.table, ...early.words);
  quote("early-healthy", ...healthyWords());
  quote("early-hard", ...hardKindWords().found);
  quote("early-reachable", ...hardKindWords().reachable);
  quote("judged-days", ...judgedWords());
  quote("flags-rules", ...ruleWords());
  quote("short-together", ...togetherWords());
  quote("forecast-coverage", ...forecastWords());
  quote("energy-balance", ...priceWords());
  quote("seasons-arrival", ...seasonWords());
  const gains = rowsOf("gain-coverage");
  const least = [...gains].sort((a, b) => at(a, "heldPct") - at(b, "heldPct"))[0]!;
  if (least["world"] !== "much gut fill") throw new Error("fewest are held elsewhere");
  quote(
    "gain-coverage",
    `${benchResult("gain-coverage").data["nurseriesOfTen"]} nurseries of ten a world`,
    `they hold ${ends(gains.map((r) => at(r, "heldPct")))} of 100 over 7 and 14 days, fewest where gut fill is largest`,
  );
  const serial = (rowsOf("conversion-coverage", "results") as readonly Row[]).filter((r) =>
    String((r["scenario"] as Row)["name"]).startsWith("14 d, correlation 0.5"),
  );
  quote(
    "conversion-coverage",
    `taken as independent they would hold only ${ends(serial.map((r) => 100 * at(r, "independent.covered")))} times in 100 over 14 days where errors of neighbouring days correlate by half`,
  );
  return quotes;
}

function ruleWords(): string[] {
  const worlds = rowsOf("flags-rules", "worlds");
  const rate = (pages: string, what: string) =>
    fixed(at(one(worlds, { pages }), `all.${what}.per100Weeks`), 1);
  return [
    `${rate("full", "practice")} (practice) and ${rate("full", "danger")} (danger, most of it newcomers found cold) per 100 animal-weeks; with many unwritten feeds and refusals ${rate("tired", "practice")} and ${rate("tired", "danger")}`,
  ];
}

function judgedWords(): string[] {
  const rows = rowsOf("judged-days");
  const judged = rows.map((r) => at(r, "judgedPct"));
  if (one(rows, { judgedPct: Math.min(...judged) })["world"] !== "sparse")
    throw new Error("fewest days are judged elsewhere");
  return [
    `judged on ${ends(judged)} % of the days in care after the third, fewest where it is weighed two and a half to four times a week from the fourth day on`,
  ];
}

function togetherWords(): string[] {
  const hard = where(rowsOf("short-together"), { world: "hard" });
  const seasons = [...new Set(hard.map((r) => at(r, "seasons")))];
  const of = (what: string, animals: number, before: string) =>
    pct(at(one(hard, { animals, before }), what));
  return [
    `In the hard held-out world (${seasons.join(" or ")} seasons a row) ${ends(
      hard.map((r) => at(r, "per100")),
      1,
    )} of 100 healthy group-weeks are named, both ways counted`,
    `a quarter less gain of all from one day on is named by day 14 in ${of("fromADayBy14", 10, "nothing")} of 100 with nothing known before, ${of("fromADayBy14", 10, "two seasons")} after two seasons of one's own, ${of("fromADayBy14", 10, "prior file")} with prior files, and ${of("fromADayBy14", 4, "prior file")} with four animals and prior files`,
    `named by day 21 in ${of("fromTheFirstBy21", 10, "two seasons")} of 100 after two seasons of one's own and in ${of("fromTheFirstBy21", 10, "prior file")} with prior files (four animals: ${of("fromTheFirstBy21", 4, "prior file")})`,
  ];
}

function forecastWords(): string[] {
  const rows = rowsOf("forecast-coverage");
  const worst = [...rows].sort((a, b) => at(a, "mass.held") - at(b, "mass.held"))[0]!;
  if (worst["world"] !== "unlike each other" || worst["animals"] !== 10)
    throw new Error("the worst row is another one");
  const counts = [...new Set(rows.map((r) => r["world"]))].map((world) =>
    where(rows, { world }).reduce((sum, r) => sum + at(r, "forecasts"), 0),
  );
  const mean = (some: readonly Row[], path: string) =>
    some.reduce((sum, r) => sum + at(r, path), 0) / some.length;
  const score = (wanted: Row) => fixed(mean(where(rows, wanted), "massScore"), 1);
  return [
    `(${ends(counts)} forecasts a world)`,
    `hold in ${fixed(Math.min(...byWorld(rows, "mass.held")))} (restless gain) to ${fixed(Math.max(...byWorld(rows, "mass.held")))} (plain weighings) of 100 by world, at the worst ${fixed(at(worst, "mass.held"))} in one of the ${rows.length} rows (ten animals unlike each other, ${worst["before"] === "prior file" ? "with prior files" : `with ${String(worst["before"])} known`})`,
    `those of a weighing in ${ends(byWorld(rows, "weighing.held"))}, of the day a target is reached in ${ends(byWorld(rows, "days.held"))} ("not by the end of the record" counted); at most ${fixed(high(rows, "refused"), 1)} of 100 in any row were refused`,
    `their interval score is ${score({ world: "restless" })} (restless) to ${score({ world: "plain" })} (plain) times his, ${score({ animals: 10, before: "prior file" })} for ten animals with prior files, ${score({ animals: 1, before: "nothing" })} for one of whose kind nothing is known`,
  ];
}

function priceWords(): string[] {
  const rows = rowsOf("energy-balance");
  const [early, late] = [where(rows, { days: 21 }), where(rows, { days: 55 })];
  const others = early.filter((r) => r["world"] !== "plain");
  const off = (r: Row) => pct(Math.abs(at(r, "bias")));
  const factor = (some: readonly Row[], digits: number) =>
    ends(
      some.map((r) => at(r, "factor")),
      digits,
    );
  const least = [...late].sort((a, b) => at(a, "held") - at(b, "held"))[0]!;
  if (least["world"] !== "much gut fill") throw new Error("fewest are held elsewhere");
  const prices = (r: Row) => at(r, "priced") * at(r, "nurseries");
  const pooled = (some: readonly Row[]) => {
    const all = some.reduce((sum, r) => sum + prices(r), 0);
    return {
      priced: pct(all / some.reduce((sum, r) => sum + at(r, "nurseries"), 0)),
      held: pct(some.reduce((sum, r) => sum + at(r, "held") * prices(r), 0) / all),
    };
  };
  return [
    `After 21 days in care ${pct(low(others, "priced"))} to ${pct(high(others, "priced"))} of 100 nurseries get a price in eight of the worlds (fewest where gut fill is largest) and ${pct(at(one(early, { world: "plain" }), "priced"))} in the plain one`,
    `over all worlds ${pooled(early).priced} of 100`,
    `The 95 % limits hold the truth in ${pct(low(early, "held"))} to ${pct(high(early, "held"))} of 100 (${pooled(early).held} over all worlds) and the price is off by at most ${Math.max(...early.map((r) => Number(off(r))))} % on average; upper and lower limit lie a factor of ${factor(early, 0)} apart`,
    `After 55 days (${at(late[0]!, "nurseries")} nurseries a world, as at 21) ${pct(low(late, "priced"))} to ${pct(high(late, "priced"))} of 100 are priced, limits a factor of ${factor(late, 1)} apart, held in ${pct(low(late, "held"))} (where gut fill is largest: there they are too narrow) to ${pct(high(late, "held"))} of 100 (${pooled(late).held} over all worlds), and the price is off by ${off(one(late, { world: "plain" }))} % in the plain world and ${off(one(late, { world: "much gut fill" }))} % where gut fill is largest`,
  ];
}

function seasonWords(): string[] {
  const rows = rowsOf("seasons-arrival");
  const sizes = [
    { animals: 7, seasons: 2 },
    { animals: 9, seasons: 2 },
    { animals: 7, seasons: 4 },
    { animals: 10, seasons: 4 },
  ];
  const less = where(rows, { perDay: 0, difference: -8 });
  const listed = (of: readonly string[]) => `${of.slice(0, -1).join(", ")} and ${of.at(-1)}`;
  const of = (before: string, path: string) =>
    listed(sizes.map((size) => pct(at(one(less, { ...size, before }), path))));
  const none = where(rows, { difference: 0 });
  const most = (before: string) => pct(high(where(none, { before }), "differs"));
  const pooled = (before: string) => {
    const some = where(none, { before });
    return pct(some.reduce((sum, r) => sum + at(r, "differs"), 0) / some.length);
  };
  const four = where(less, { before: "nothing", seasons: 4 });
  const weekly = rowsOf("seasons-arrival", "weeklyLooks");
  return [
    `in ${of("nothing", "differs")} of 100 (two seasons of 7 and of 9 animals, four of 7 and of 10)`,
    `in a further ${of("nothing", "notSeparated")}; adjusted freely it was ${of("nothing", "freely")}, and without regard to arrival ${of("nothing", "welch")}`,
    `With prior files of four nurseries that tell what arrival does it is ${of("prior files", "differs")}`,
    `set against all seasons before it, ${listed(four.map((r) => pct(at(r, "asked"))))} of 100 with four seasons`,
    `at most ${most("nothing")} of 100 are called different without prior files, and ${pooled("prior files")} (by row at most ${most("prior files")}) with them`,
    `half a per cent a day off it is ${pooled("prior files half a per cent off")} (at most ${most("prior files half a per cent off")}, and ${pct(high(none, "asked"))} where a season is set against all before it)`,
    `${shares(weekly, "any")} of 100 are called different at any look where nothing differs, ${shares(weekly, "last")} at the last one (${at(weekly[0]!, "runs")} pairs of seasons each of ${weekly.map((r) => at(r, "animals")).join(" and ")} animals, ${ends(weekly.map((r) => at(r, "looks")))} looks)`,
  ];
}
