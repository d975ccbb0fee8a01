import { type BenchResult, benchResult } from "./bench-results.js";

/** Something that is claimed, and how its figures are read out of a committed result. */
export interface Claim {
  readonly claim: string;
  readonly bench: string;
  /** The figures in words, worked out from the result and from nothing else. */
  readonly figures: (data: Data) => string;
}

export interface ReadClaim extends Omit<Claim, "figures"> {
  readonly figures: string;
  readonly result: BenchResult;
}

type Data = Readonly<Record<string, unknown>>;
type Row = Readonly<Record<string, unknown>>;

/** Every claim with its figures. @throws Error that names a result in which a figure is missing. */
export function readClaims(): ReadClaim[] {
  return claims.map(({ claim, bench, figures }) => {
    const result = benchResult(bench);
    try {
      return { claim, bench, result, figures: figures(result.data) };
    } catch (error) {
      throw new Error(`The claim "${claim}" cannot be read: ${(error as Error).message}`);
    }
  });
}

const claims: readonly Claim[] = [
  {
    claim: "95 % limits of a mass 14 days ahead hold.",
    bench: "forecast-coverage",
    figures: (data) =>
      `${spread(rows(data), "world", "mass.held")} of 100, by world and what was known before; fewest ${least(rows(data), "mass.held")}.`,
  },
  {
    claim: "95 % limits of the day on which a target is reached hold.",
    bench: "forecast-coverage",
    figures: (data) => `${spread(rows(data), "world", "days.held")} of 100, by world.`,
  },
  {
    claim: "95 % intervals of gain hold where gut fill lasts.",
    bench: "gain-coverage",
    figures: (data) =>
      `${range(rows(data), "heldPct")} of 100 by world and window; with errors taken as independent ${range(rows(data), "independentPct")}.`,
  },
  {
    claim: "95 % intervals of feed conversion hold where weighings err alike.",
    bench: "conversion-coverage",
    figures: (data) =>
      `${percent(data["results"], "serial.covered")} of 100; the textbook interval ${percent(data["results"], "independent.covered")}.`,
  },
  {
    claim:
      "What a gram of gain costs: 95 % limits hold, and a price is refused where it cannot be told.",
    bench: "energy-balance",
    figures: (data) =>
      [21, 55]
        .map((days) => {
          const some = rows(data).filter((row) => row["days"] === days);
          return `after ${days} days priced ${percent(some, "priced")} of 100 nurseries by world, limits held in ${percent(some, "held")}`;
        })
        .join("; "),
  },
  {
    claim: "A gain that halves is flagged within 14 days, at two false flags asked for.",
    bench: "early",
    figures: (data) => {
      const halved = rows(data).filter((row) => (row["found"] as Row)["halved"] !== undefined);
      const asked = rows(data).map((row) => list(row, "rates").find((r) => r["asked"] === 2)!);
      return `${percent(halved, "found.halved.share")} of 100 by kind of nursery, size of group and what was known before; for two asked ${range(asked, "per100")} false flags in 100 weeks.`;
    },
  },
  {
    claim: "How often a danger is named on a healthy animal, in 100 weeks.",
    bench: "levels",
    figures: (data) =>
      rows(data, "worlds")
        .map(
          (w) =>
            `${w["kept"]} pages: ${number(w, "dangerPer100Weeks")} (up to ${number(w, "upTo")})`,
        )
        .join("; "),
  },
  {
    claim: "Every planted danger is found on the next page.",
    bench: "levels",
    figures: (data) => {
      const planted = rows(data, "worlds").flatMap((w) => list(w, "planted"));
      return `${sum(planted, "found")} of ${sum(planted, "planted")} planted.`;
    },
  },
  {
    claim: "A season that is short together is seen.",
    bench: "short-together",
    figures: (data) =>
      `a quarter less from one day on is named by day 14 in ${percent(rows(data), "fromADayBy14")} of 100; healthy seasons in ${range(rows(data), "per100")} of 100 group-weeks. Short from the first day: ${percent(rows(data), "fromTheFirstBy21")} by day 21, none where nothing is known before.`,
  },
  {
    claim: "Two seasons that do not differ are called different in 5 of 100.",
    bench: "seasons-calibration",
    figures: (data) => {
      const none = data["noDifference"] as Row;
      return `${(100 * number(none, "differs")).toFixed(1)} of 100 in ${number(none, "runs")} runs; the interval holds in ${(100 * number(none, "covered")).toFixed(1)}.`;
    },
  },
  {
    claim:
      "A fifth less gain in a season that arrives a week older is found, or said to be inseparable from arrival.",
    bench: "seasons-arrival",
    figures: (data) => {
      const some = rows(data).filter(
        (row) => number(row, "difference") !== 0 && row["perDay"] === 0,
      );
      const alone = some.filter((row) => row["before"] === "nothing");
      const told = some.filter((row) => row["before"] === "prior files");
      return `found in ${percent(alone, "differs")} of 100 by seasons and animals, said to be inseparable in a further ${percent(alone, "notSeparated")}; with prior files of four nurseries found in ${percent(told, "differs")}.`;
    },
  },
  {
    claim: "Why an animal gains slowly: a wrong cause is seldom called likely.",
    bench: "slow-gainer-causes-held-out",
    figures: (data) => {
      const all = data["all"] as Row;
      return `right cause called likely in ${number(all, "likelyPct")} of 100 that can be told, among the first two in ${number(all, "amongFirstTwoPct")}; a wrong one in ${number(all, "wrongLikelyPct")} of 100 (${number(all, "runs")} runs).`;
    },
  },
  {
    claim: "Intervals of the parameters of a growth curve hold.",
    bench: "curves-coverage",
    figures: (data) => {
      const shares = rows(data).flatMap((row) => Object.values(row["profile"] as Row).map(Number));
      return `profile intervals ${(100 * Math.min(...shares)).toFixed(1)} to ${(100 * Math.max(...shares)).toFixed(1)} of 100 by curve and parameter.`;
    },
  },
  {
    claim: "A curve starts by itself and reaches the best fit.",
    bench: "curves-self-start",
    figures: (data) =>
      `${percent(rows(data), "share", 2)} of 100 identified series by curve (${rows(data).length} curves).`,
  },
  {
    claim: "Intervals for a new animal's mass 7 days ahead hold in a cohort of the right shape.",
    bench: "mixed-coverage",
    figures: (data) => {
      const shares = (wrong: boolean) =>
        rows(data)
          .filter((row) => text(row, "scenario").includes("wrong") === wrong)
          .flatMap((row) => row["trueMassPercent"] as number[]);
      const of = (all: readonly number[]) =>
        `${Math.min(...all).toFixed(1)} to ${Math.max(...all).toFixed(1)}`;
      return `${of(shares(false))} of 100 by scenario and number of weighings. With a curve of the wrong shape ${of(shares(true))}: it promises far more than it holds.`;
    },
  },
  {
    claim: "Slips of the pen are seen, and healthy weighings are not doubted.",
    bench: "slips",
    figures: (data) => {
      const made = Object.values(data["slips"] as Readonly<Record<string, Row>>);
      const healthy = data["healthy"] as Row;
      return `${sum(made, "seen")} of ${sum(made, "made")} slips seen; ${number(healthy, "doubted")} of ${number(healthy, "weighings")} healthy weighings doubted.`;
    },
  },
  {
    claim: "A spoilt file never stops the reading with a fault, and no row is lost.",
    bench: "records-spoilt",
    figures: (data) =>
      Object.entries(data["sums"] as Readonly<Record<string, Row>>)
        .map(
          ([what, sums]) =>
            `${what}: ${number(sums, "faults")} faults in ${number(sums, "files")} spoilt files, ${number(sums, "rowsIn")} rows in`,
        )
        .join("; "),
  },
  {
    claim: "An order that is written wrong is doubted.",
    bench: "orders-doubted",
    figures: (data) =>
      rows(data, "results")
        .map((r) => `${r["written"]}: ${number(r, "doubted")} of ${number(r, "looked")}`)
        .join("; "),
  },
];

/** A list of rows in a result. */
function rows(data: Data, name = "rows"): readonly Row[] {
  return list(data, name);
}

function list(of: Row, name: string): readonly Row[] {
  const found = of[name];
  if (!Array.isArray(found) || found.length === 0) throw new Error(`there are no ${name}`);
  return found;
}

/** A number by its path. @example number({ a: { b: 1 } }, "a.b") // 1 */
function number(row: Row, path: string): number {
  const value = path.split(".").reduce<unknown>((x, name) => (x as Row | undefined)?.[name], row);
  if (typeof value !== "number") throw new Error(`${path} is no number`);
  return value;
}

function text(row: Row, name: string): string {
  const value = row[name];
  if (typeof value !== "string") throw new Error(`${name} is no text`);
  return value;
}

const numbers = (all: readonly Row[], path: string) =>
  all
    .filter((row) => path.split(".").reduce<unknown>((x, n) => (x as Row | null)?.[n], row) != null)
    .map((row) => number(row, path));
const sum = (all: readonly Row[], path: string) =>
  numbers(all, path).reduce((total, each) => total + each, 0);
const least = (all: readonly Row[], path: string) => Math.min(...numbers(all, path));

function range(all: readonly Row[], path: string): string {
  const found = numbers(all, path);
  return `${Math.min(...found)} to ${Math.max(...found)}`;
}

/** Shares as per cent. */
function percent(all: unknown, path: string, digits = 0): string {
  if (!Array.isArray(all)) throw new Error(`there is nothing to read ${path} from`);
  const found = numbers(all, path).map((each) => 100 * each);
  if (found.length === 0) throw new Error(`${path} stands nowhere`);
  const [low, high] = [Math.min(...found).toFixed(digits), Math.max(...found).toFixed(digits)];
  return low === high ? low : `${low} to ${high}`;
}

/** Means by group, lowest to highest. */
function spread(all: readonly Row[], by: string, path: string): string {
  const groups = [...new Set(all.map((row) => row[by]))].map((name) => {
    const found = numbers(
      all.filter((row) => row[by] === name),
      path,
    );
    return found.reduce((total, each) => total + each, 0) / found.length;
  });
  return `${Math.min(...groups).toFixed(0)} to ${Math.max(...groups).toFixed(0)}`;
}
