import { type Random, seededRandom } from "../../src/core/random.js";
import { fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import { arrivalSlope } from "../../src/seasons/arrival-belief.js";
import { compareSeasons } from "../../src/seasons/compare-seasons.js";
import { seasonGains } from "../../src/seasons/season-gain.js";
import { seasonAgainstPast } from "../../src/seasons/season-spread.js";
import type {
  AnimalSeries,
  ArrivalSlope,
  DailyMass,
  StudySeries,
} from "../../src/series/animal-series.js";
import { ordersFrom } from "../series/plan-row.js";

/** How a season of animals is drawn. Figures of the size seen in the demo study; nothing is fitted. */
export interface SimulationPlan {
  readonly animals: number;
  readonly seasons: number;
  /** Spread of animals' true gains, g/d, and of true season means about the common mean. */
  readonly animalSd: number;
  readonly seasonSd: number;
  /** True difference of the last season from the others, g/d. */
  readonly difference: number;
  /** Days of age by which the last season's animals arrive later; and over how many days each season's arrive. Default 0 and 14. */
  readonly laterD?: number;
  readonly overD?: number;
  /** What a day later does to gain, as a share of it. Default 0. */
  readonly perDay?: number;
}

const dayMs = 86_400_000;
const window = { fromAgeD: 21, toAgeD: 84 };

/** One simulated study: arrivals differ in age, mass and sex; masses wobble from day to day; days are missed. */
export function simulateStudy(plan: SimulationPlan, seed: number): StudySeries {
  const random = seededRandom(seed);
  const animals: AnimalSeries[] = [];
  for (let s = 0; s < plan.seasons; s++) {
    const season = String(2031 + s);
    const shift = plan.seasonSd * random.normal() + (s === plan.seasons - 1 ? plan.difference : 0);
    for (let i = 0; i < plan.animals; i++) {
      const later = s === plan.seasons - 1 ? (plan.laterD ?? 0) : 0;
      const arrivalAge = 2 + later + (plan.overD ?? 14) * random.uniform();
      const arrivalMass = 1750 + 180 * random.normal() + 14 * arrivalAge;
      const heavier = arrivalMass - 14 * arrivalAge - 1724;
      const gain =
        plan.perDay === undefined
          ? 40 + shift + 0.008 * (arrivalMass - 1850) + plan.animalSd * random.normal()
          : 40 * (1 + plan.perDay * (arrivalAge - 9)) +
            shift +
            0.008 * heavier +
            plan.animalSd * random.normal();
      const birth = Date.UTC(2031 + s, 1, 1 + Math.floor(200 * random.uniform()), 12);
      let wobble = 0;
      const daily: DailyMass[] = [];
      for (let age = Math.ceil(arrivalAge); age <= 95; age++) {
        wobble = 0.5 * wobble + 30 * random.normal();
        if (age > arrivalAge + 1 && random.uniform() < 0.05) continue;
        const at = birth + (age + 0.02 * random.normal()) * dayMs;
        daily.push({
          feedingDay: new Date(at).toISOString().slice(0, 10),
          at,
          massG: arrivalMass + gain * (age - arrivalAge) + wobble,
          ageD: age,
          sinceAdmissionD: age - arrivalAge,
          errorG: 15,
          usualCondition: true,
          nWeighings: 1,
        });
      }
      animals.push(
        animalOf(`${season}-${i}`, season, random.uniform() < 0.5, birth, arrivalAge, daily),
      );
    }
  }
  return {
    settings: {
      title: "simulated",
      species: ["sea otter"],
      zone: "UTC",
      feedingDayStartHour: 6,
      blankTareIsZero: false,
      blankRefusalIsNone: false,
      dateStyle: "year-month-day",
      decimal: "point",
      scaleErrorG: {},
      speciesOverrides: {},
    },
    animals,
    scaleChecks: [],
    batches: [],
    events: [],
    notices: [],
  };
}

export interface Rates {
  readonly runs: number;
  /** Share of simulated comparisons that end in "differs". */
  readonly differs: number;
  /** Monte Carlo standard error of that share. */
  readonly se: number;
  /** Share of intervals that cover the true difference of these animals' populations. */
  readonly covered: number;
}

/** Runs the whole comparison as used, on two seasons, and counts. */
export function rateOfDiffers(
  plan: SimulationPlan,
  runs: number,
  seed: number,
  mixed = false,
): Rates {
  const random = seededRandom(seed);
  let differs = 0;
  let covered = 0;
  for (let run = 0; run < runs; run++) {
    const study = simulateStudy(plan, random.below(4294967296));
    const { value } = compareSeasons(study, { species: "sea otter", window, runs: 0, mixed });
    const pair = value.pairs[0]!;
    const view = value.mixed?.pairs[0];
    const p = mixed ? view!.p : pair.adjustedP;
    const interval = mixed ? view!.interval : pair.difference.interval!;
    if (p < 0.05) differs++;
    if (interval.lower! <= plan.difference && interval.upper! >= plan.difference) covered++;
  }
  const share = differs / runs;
  return {
    runs,
    differs: share,
    se: Math.sqrt((share * (1 - share)) / runs),
    covered: covered / runs,
  };
}

/**
 * What other nurseries would write of arrival in their prior files: their slopes differ by
 * 0.3 % a day about `perDay`, their animals (two to four seasons of six to ten) arrive over
 * ten to twenty-five days.
 */
export function simulatedArrivals(perDay: number, nurseries: number, seed: number): ArrivalSlope[] {
  const random = seededRandom(seed);
  return Array.from({ length: nurseries }, () => {
    const plan = {
      animals: 6 + random.below(5),
      seasons: 2 + random.below(3),
      animalSd: 4.8,
      seasonSd: 2,
      difference: 0,
      laterD: 6 * random.uniform(),
      overD: 10 + 15 * random.uniform(),
      perDay: perDay + 0.003 * random.normal(),
    };
    const { animals, seasons } = seasonGains(simulateStudy(plan, random.below(4294967296)), {
      species: "sea otter",
      window,
    });
    return arrivalSlope(fitAdjustedModel(animals, seasons)!)!;
  });
}

/** The study with prior files that tell `arrivals`, and of gain nothing. */
export function withArrivals(study: StudySeries, arrivals: readonly ArrivalSlope[]): StudySeries {
  const priors = arrivals.map((arrival, i) => ({
    species: "sea otter",
    file: `prior-${i}.json`,
    animals: arrival.animals,
    seasons: 1,
    agesD: [],
    information: [],
    pulled: [],
    variation: nothingOfVariation,
    arrival,
  }));
  return { ...study, settings: { ...study.settings, priors } };
}

const nothingOfVariation = {
  noise: { logMean: 0, logSd: 1 },
  lasting: { mean: 0, sd: 1 },
  wander: { logMean: 0, logSd: 1 },
  spread: { logMean: 0, logSd: 1 },
};

/** Shares of the decisions about the last season against the first, and of Welch's test below 5 %. */
export function rateOfDecisions(
  plan: SimulationPlan,
  runs: number,
  seed: number,
  /** Other nurseries of which some, drawn anew each time, gave prior files. */
  others: { readonly arrivals: readonly ArrivalSlope[]; readonly files: number } | null = null,
): {
  readonly differs: number;
  /** The last season against all before it, the first answer of the page. */
  readonly asked: number;
  readonly notSeparated: number;
  readonly welch: number;
  readonly freely: number;
} {
  const random = seededRandom(seed);
  const count = { differs: 0, asked: 0, notSeparated: 0, welch: 0, freely: 0 };
  const seasons = [String(2031), String(2030 + plan.seasons)] as const;
  for (let run = 0; run < runs; run++) {
    const made = simulateStudy(plan, random.below(4294967296));
    const files = others === null ? [] : drawn(others.arrivals, others.files, random);
    const { value } = compareSeasons(withArrivals(made, files), {
      species: "sea otter",
      window,
      runs: 0,
      mixed: false,
      pair: seasons,
    });
    const pair = value.pairs[0]!;
    if (pair.decision === "differs") count.differs++;
    if (value.asked?.differs === true) count.asked++;
    if (pair.decision === "cannot be separated") count.notSeparated++;
    if ((pair.unadjusted?.p ?? 1) < 0.05) count.welch++;
    if ((pair.arrival?.freely.p ?? pair.p) < 0.05) count.freely++;
  }
  return {
    differs: count.differs / runs,
    asked: count.asked / runs,
    notSeparated: count.notSeparated / runs,
    welch: count.welch / runs,
    freely: count.freely / runs,
  };
}

const drawn = <T>(from: readonly T[], n: number, random: Random): T[] =>
  Array.from({ length: n }, () => from[random.below(from.length)]!);

/**
 * Looks at the last season each week from its first complete animal to its last: the share
 * of seasons in which any look, and the last look, says "differs".
 */
export function rateOfWeeklyLooks(
  plan: SimulationPlan,
  runs: number,
  seed: number,
): { readonly any: number; readonly last: number; readonly looks: number } {
  const random = seededRandom(seed);
  let any = 0;
  let last = 0;
  let looks = 0;
  for (let run = 0; run < runs; run++) {
    const study = simulateStudy(plan, random.below(4294967296));
    const ends = study.animals.map((a) => a.daily.at(-1)!.at);
    const newest = Math.max(...ends);
    const season = study.animals.filter((a) => a.animal.season === String(2030 + plan.seasons));
    const first = Math.min(...season.map((a) => a.daily.at(-1)!.at));
    let said = false;
    for (let at = first; ; at += 7 * dayMs) {
      looks++;
      const { value } = compareSeasons(upTo(study, Math.min(at, newest)), {
        species: "sea otter",
        window,
        runs: 0,
        mixed: false,
      });
      const differs = value.pairs.some((p) => p.decision === "differs");
      if (differs) said = true;
      if (at >= newest) {
        if (differs) last++;
        break;
      }
    }
    if (said) any++;
  }
  return { any: any / runs, last: last / runs, looks: looks / runs };
}

/** The study as it stood: nothing weighed later, and nobody released who was not yet. */
function upTo(study: StudySeries, at: number): StudySeries {
  return {
    ...study,
    animals: study.animals.flatMap((a) => {
      const daily = a.daily.filter((d) => d.at <= at);
      if (daily.length === 0) return [];
      const there = daily.length < a.daily.length;
      return [{ ...a, daily, animal: there ? { ...a.animal, outcome: "in care" } : a.animal }];
    }),
  };
}

/** The season-level question: the last of several seasons against the earlier ones. */
export function rateOfSeasonClaims(plan: SimulationPlan, runs: number, seed: number): Rates {
  const random = seededRandom(seed);
  let differs = 0;
  let covered = 0;
  for (let run = 0; run < runs; run++) {
    const study = simulateStudy(plan, random.below(4294967296));
    const { value } = compareSeasons(study, {
      species: "sea otter",
      window,
      runs: 0,
      mixed: false,
    });
    const means = value.seasons.map((s) => ({
      name: s.season,
      mean: s.adjusted.value!,
      se: s.adjusted.se!,
    }));
    const claim = seasonAgainstPast(means.at(-1)!, means.slice(0, -1))!;
    if (claim.p < 0.05) differs++;
    const { lower, upper } = claim.expected;
    if (means.at(-1)!.mean >= lower && means.at(-1)!.mean <= upper) covered++;
  }
  const share = differs / runs;
  return {
    runs,
    differs: share,
    se: Math.sqrt((share * (1 - share)) / runs),
    covered: covered / runs,
  };
}

function animalOf(
  animalId: string,
  season: string,
  male: boolean,
  birth: number,
  arrivalAge: number,
  daily: readonly DailyMass[],
): AnimalSeries {
  const admittedAt = birth + arrivalAge * dayMs;
  return {
    animal: {
      animalId,
      name: null,
      species: "sea otter",
      sex: male ? "male" : "female",
      birthDateEarliest: null,
      birthDateLatest: null,
      birthDateBasis: "observed",
      admittedAt,
      season,
      outcome: "released",
      outcomeReason: null,
      outcomeDate: null,
      notes: null,
      origin: { file: "animals.csv", line: 2 },
    },
    age: {
      birthEarliest: birth,
      birthLatest: birth,
      birth,
      rangeDays: 0,
      usableForWeightForAge: true,
    },
    weighings: [],
    daily,
    feeds: [],
    sharedFeeds: [],
    signs: [],
    orders: ordersFrom([]),
    span: { from: admittedAt, to: daily.at(-1)!.at },
    notices: [],
  };
}
