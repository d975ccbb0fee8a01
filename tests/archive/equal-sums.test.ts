import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { leaveOutPeople } from "../../src/analysis/leave-out-people.js";
import { seasonSummaries } from "../../src/analysis/prior-of-study.js";
import { studyOfAnimals } from "../../src/analysis/study-of-animals.js";
import type { Archive } from "../../src/archive/archive-handle.js";
import type { SumRow } from "../../src/archive/chosen.js";
import { openArchive } from "../../src/archive/open-archive.js";
import { poolGrowth } from "../../src/archive/pool-growth.js";
import { centilesByAge } from "../../src/archive/sums/centiles-by-age.js";
import { conversionBy } from "../../src/archive/sums/conversion-by.js";
import { dailyIntake, meanIntakeBy } from "../../src/archive/sums/daily-intake.js";
import { gainBy } from "../../src/archive/sums/gain-by.js";
import { milestonesBy } from "../../src/archive/sums/milestones-by.js";
import { missingBy } from "../../src/archive/sums/missing-by.js";
import { runCommand } from "../../src/command-line/run-command.js";
import { addToArchive } from "../../src/publish/add-to-archive.js";
import { checkArchive } from "../../src/publish/check-archive.js";
import { type IntakeDay, intakeByDay } from "../../src/rates/intake-by-day.js";
import { usableFeeds } from "../../src/rates/usable-feeds.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { priorText, readPrior } from "../../src/records/prior-file.js";
import type { DecisionRow, Study } from "../../src/records/study.js";
import { summaryOfHouse } from "../../src/reference/expectation-prior.js";
import { combineArrivalSlopes } from "../../src/seasons/arrival-belief.js";
import { mainFormula } from "../../src/seasons/main-formula.js";
import { milestoneTimes } from "../../src/seasons/milestone-times.js";
import type { SeasonAnimal } from "../../src/seasons/season-animal.js";
import { seasonGains } from "../../src/seasons/season-gain.js";
import { spreadOf } from "../../src/seasons/spread.js";
import { summariseSeasons } from "../../src/seasons/summarise-seasons.js";
import type { AnimalSeries, StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { quantile } from "../../src/stats/descriptive/quantile.js";
import { engineIsHere, unlessHere } from "./small-study.js";

/**
 * The demo's animals in three houses, one archive: every sum inside the engine is held
 * against what the library works out of each house's study alone, to 1e-9 of the value.
 */
const demo = fileURLToPath(new URL("../../data-demo", import.meta.url));
const houses = ["north", "mill", "oak"] as const;

interface House {
  readonly facility: string;
  readonly study: Study;
  readonly series: StudySeries;
  readonly animals: readonly SeasonAnimal[];
}

let work: string;
let archive: Archive;
let all: House[];

describe.skipIf(!engineIsHere)(`sums of an archive${unlessHere}`, () => {
  beforeAll(async () => {
    work = mkdtempSync(join(tmpdir(), "gramline-sums-"));
    const study = withDecision(await readStudy(demo));
    const ids = study.tables.animals.map((a) => a.animalId);
    all = [];
    for (const [i, facility] of houses.entries()) {
      const house = studyOfAnimals(study, (id) => ids.indexOf(id) % 3 === i);
      await addToArchive(house, { to: work, facility, name: "demo" });
      const kept = leaveOutPeople(house);
      const series = buildSeries(kept);
      all.push({ facility, study: kept, series, animals: summariseSeasons(series).value.animals });
    }
    archive = await openArchive(work);
  }, 300_000);
  afterAll(() => {
    archive?.close();
    rmSync(work, { recursive: true, force: true });
  });

  it("holds every accepted row of every house", async () => {
    expect((await checkArchive(work)).faults).toEqual([]);
    const own = [...(await readStudy(demo)).tables.feeds].filter((f) => f.animalId !== null);
    const count = "SELECT count(*) AS n FROM feeds WHERE animal IS NOT NULL";
    expect(await archive.rows(count)).toEqual([{ n: own.length }]);
    for (const { counts } of archive.studies)
      for (const c of counts) expect(c.rowsIn).toBe(c.accepted + c.setAside);
  });

  it("daily intake is that of each study, day by day", async () => {
    const rows = keyed((await dailyIntake(archive)).value, (r) => `${r["animal"]} ${dayOf(r)}`);
    let days = 0;
    for (const { facility, animal, intake } of everyIntake())
      for (const day of intake) {
        const row = rows.get(`${facility}/${animal.animal.animalId} ${day.feedingDay}`)!;
        days++;
        expect(row["complete"]).toBe(day.complete);
        expect([row["feeds"], row["season"]]).toEqual([day.feeds, animal.animal.season]);
        near(row["offered_g"], day.offeredG);
        for (const [name, bounds] of [
          ["eaten_g", day.eatenG],
          ["kcal", day.kcal],
          ["dry_matter_g", day.dryMatterG],
          ["protein_g", day.proteinG],
          ["fat_g", day.fatG],
        ] as const) {
          near(row[`${name}_low`], bounds.low);
          near(row[`${name}_high`], bounds.high);
        }
      }
    expect(days).toBeGreaterThan(1500);
    expect(rows.size).toBe(days);
  });

  it("mean intake by animal, season, facility and diet", async () => {
    const known = everyIntake().flatMap(({ facility, animal, intake }) =>
      intake.filter(isKnown).map((day) => ({ facility, animal, day })),
    );
    const groups = (key: (k: (typeof known)[number]) => string) => grouped(known, key);
    for (const [by, key] of [
      ["animal", (k) => `${k.facility}/${k.animal.animal.animalId}`],
      ["season", (k) => String(k.animal.animal.season)],
      ["facility", (k) => k.facility],
    ] as const satisfies readonly (readonly [string, (k: (typeof known)[number]) => string])[]) {
      const rows = (await meanIntakeBy(archive, [by])).value;
      const expected = groups(key);
      expect(rows.length).toBe(expected.size);
      for (const row of rows) {
        const days = expected.get(String(row[by]))!;
        expect(row["days"]).toBe(days.length);
        near(row["eaten_g"], mean(days.map((d) => d.day.eatenG.value!)));
        near(row["kcal"], mean(days.flatMap((d) => d.day.kcal.value ?? [])));
      }
    }
    const isWhole = new Set(
      known.map((k) => `${k.facility} ${k.animal.animal.animalId} ${k.day.feedingDay}`),
    );
    const fed = all.flatMap(({ facility, series }) =>
      series.animals.flatMap((animal) =>
        usableFeeds(animal).feeds.map(({ feed, eatenG }) => ({
          day: `${facility} ${animal.animal.animalId} ${feed.feedingDay}`,
          diet: `${facility}/${feed.dietId}`,
          eaten: eatenG.low,
        })),
      ),
    );
    const byDiet = grouped(
      fed.filter((f) => isWhole.has(f.day)),
      (f) => f.diet,
    );
    const rows = (await meanIntakeBy(archive, ["diet"])).value;
    expect(rows.length).toBe(byDiet.size);
    for (const row of rows) {
      const feeds = byDiet.get(String(row["diet"]))!;
      const days = [...grouped(feeds, (f) => f.day).values()].map((d) =>
        d.reduce((s, f) => s + f.eaten, 0),
      );
      expect(row["days"]).toBe(days.length);
      near(row["eaten_g"], mean(days));
    }
  });

  it("gain by animal, season, facility and diet", async () => {
    const window = { fromAgeD: 21, toAgeD: 63 };
    const gains = all.flatMap(({ facility, series }) =>
      seasonGains(series, { species: "sea otter", window }).animals.map((gain) => ({
        ...gain,
        facility,
        animal: `${facility}/${gain.animalId}`,
        diet: String(mainFormula(series.animals.find((a) => a.animal.animalId === gain.animalId)!)),
      })),
    );
    expect(gains.length).toBeGreaterThan(8);
    for (const by of ["animal", "season", "facility", "diet"] as const) {
      const rows = (await gainBy(archive, [by], { ...window, species: ["sea otter"] })).value;
      const expected = grouped(gains, (g) => g[by]);
      expect(rows.map((r) => String(r[by])).sort()).toEqual([...expected.keys()].sort());
      for (const row of rows) {
        const spread = spreadOf(
          expected.get(String(row[by]))!.map((g) => g.gain),
          "g/d",
        );
        expect(row["n"]).toBe(spread.n);
        near(row["gain"], spread.mean);
        near(row["gain_sd"], spread.sd);
        near(row["gain_median"], spread.median);
      }
    }
  });

  it("conversion by animal, season, facility and diet, as the ratio of sums", async () => {
    const animals = all.flatMap(({ facility, animals: own }) =>
      own.map((a) => ({
        facility,
        animal: `${facility}/${a.animalId}`,
        season: String(a.season),
        diet: String(a.mainFormula),
        kcal: a.phases.reduce((s, p) => s + p.convertedKcal, 0),
        gained: a.phases.reduce((s, p) => s + p.convertedGainG, 0),
        windows: a.phases.reduce((s, p) => s + p.windows, 0),
      })),
    );
    for (const by of ["animal", "season", "facility", "diet"] as const) {
      const rows = (await conversionBy(archive, [by])).value;
      const expected = grouped(
        animals.filter((a) => a.windows > 0),
        (a) => a[by],
      );
      expect(rows.length).toBe(expected.size);
      for (const row of rows) {
        const own = expected.get(String(row[by]))!;
        const sum = (pick: (a: (typeof own)[number]) => number) =>
          own.reduce((s, a) => s + pick(a), 0);
        expect(row["windows"]).toBe(sum((a) => a.windows));
        near(
          row["kcal"],
          sum((a) => a.kcal),
        );
        near(
          row["gained_g"],
          sum((a) => a.gained),
        );
        near(
          row["kcal_per_g"],
          sum((a) => a.gained) > 0 ? sum((a) => a.kcal) / sum((a) => a.gained) : null,
        );
      }
    }
  });

  it("centiles by age", async () => {
    const masses = all.flatMap(({ series }) =>
      series.animals
        .filter((a) => a.age.usableForWeightForAge)
        .flatMap((a) =>
          a.daily
            .filter((d) => d.ageD !== null && d.ageD >= 0)
            .map((d) => ({
              key: `${a.animal.species} ${7 * Math.floor(d.ageD! / 7)}`,
              massG: d.massG,
            })),
        ),
    );
    const expected = grouped(masses, (m) => m.key);
    const rows = (await centilesByAge(archive)).value;
    expect(rows.length).toBe(expected.size);
    for (const row of rows) {
      const own = expected.get(`${row["species"]} ${row["age_from_d"]}`)!.map((m) => m.massG);
      expect(row["weighings"]).toBe(own.length);
      for (const c of [3, 10, 50, 90, 97]) near(row[`c${c}`], quantile(own, c / 100));
    }
  });

  it("pools the houses as each study says by itself, and writes a prior file", async () => {
    const out = join(work, "..", `${basename(work)}-prior`);
    const words = ["pool", work, "--species", "sea otter", "--out", join(out, "prior.json")];
    expect(await runCommand([...words, "--quiet"])).toBe(0);
    const written = readPrior(readFileSync(join(out, "prior.json"), "utf8"), "prior.json");
    rmSync(out, { recursive: true, force: true });
    const each = all.map(({ study }) => seasonSummaries(study, "sea otter")!);
    const summaries = each.map((house) => summaryOfHouse(house.weakGain, house.seasons));
    const expected = summaryOfHouse(each[0]!.weakGain, summaries, "nurseries");
    const arrivals = each.flatMap((house) => house.arrival ?? []);
    expect(written).toEqual(
      readPrior(
        priorText(expected, "sea otter", combineArrivalSlopes(arrivals, "houses")),
        "prior.json",
      ),
    );
    const { value } = await poolGrowth(archive, { species: "Sea otter" });
    for (const { facility, series } of all) {
      const gains = seasonGains(series, { species: "sea otter", window: value.window }).animals;
      const house = value.facilities.find((f) => f.facility === facility)!;
      near(house.observed, mean(gains.map((g) => g.gain)));
      expect(house.animals).toBe(gains.length);
    }
    await expect(poolGrowth(archive, { species: "auk" })).rejects.toThrow(
      /harbour seal, sea otter/,
    );
  });

  it("milestones and what is missing", async () => {
    const rows = (await milestonesBy(archive, ["facility"])).value;
    let seen = 0;
    for (const row of rows) {
      const { series } = all.find((h) => h.facility === row["facility"])!;
      const times = ["sea otter", "harbour seal"].flatMap(
        (species) => milestoneTimes(series, { species, milestone: String(row["milestone"]) }).times,
      );
      const reached = times.flatMap((t) => t.by ?? []);
      seen += reached.length;
      expect([row["animals"], row["seen"]]).toEqual([times.length, reached.length]);
      near(row["seen_by_mean_d"], reached.length === 0 ? null : mean(reached));
      near(row["seen_by_median_d"], quantile(reached, 0.5));
    }
    expect(seen).toBeGreaterThan(20);
    const missing = (await missingBy(archive, ["facility", "species", "season"])).value;
    let groups = 0;
    for (const { facility, series, animals } of all)
      for (const group of summariseSeasons(series, { animals }).value.groups) {
        const { species, season } = group.group;
        const row = missing.find(
          (r) => r["facility"] === facility && r["species"] === species && r["season"] === season,
        );
        groups++;
        expect(row).toMatchObject({
          animals: group.n,
          days_in_care: group.missing.daysInCare,
          days_not_weighed: group.missing.daysNotWeighed,
          days_not_fed: group.missing.daysNotFed,
          feeds: group.missing.feeds,
          feeds_unknown: group.missing.feedsUnknown,
          suspected_slips: group.missing.suspectedSlips,
          ages_unknown: group.missing.agesUnknown,
        });
      }
    expect(groups).toBe(missing.length);
  });
});

/** A correction, so that decided rows are among those that are summed. */
function withDecision(study: Study): Study {
  const row =
    [...study.tables.feeds].find((f) => f.animalId !== null && f.refusedG === null) ??
    [...study.tables.feeds][50]!;
  const decision: DecisionRow = {
    ...{ animalId: row.animalId!, at: row.at, massG: null, offeredG: row.offeredG },
    ...{ decision: "correct", newAnimalId: null, newAt: null, newMassG: null, newTareG: null },
    ...{
      newOfferedG: row.offeredG + 11,
      newRefusedG: 3,
      decidedBy: "Ferrow",
      decidedOn: "2025-01-01",
    },
    ...{ why: "read again", origin: { file: "decisions.csv", line: 2 } },
  };
  return { ...study, decisions: [decision] };
}

function everyIntake(): { facility: string; animal: AnimalSeries; intake: readonly IntakeDay[] }[] {
  return all.flatMap(({ facility, series }) =>
    series.animals.map((animal) => ({
      facility,
      animal,
      intake: intakeByDay(animal, { settings: series.settings }).value,
    })),
  );
}

const isKnown = (d: IntakeDay) => d.complete && d.feeds > 0 && d.eatenG.value !== null;
const mean = (x: readonly number[]) => x.reduce((s, v) => s + v, 0) / x.length;
const dayOf = (row: SumRow) => new Date(Number(row["feeding_day"])).toISOString().slice(0, 10);

function near(came: unknown, expected: number | null): void {
  if (expected === null || !Number.isFinite(expected)) expect(came).toBeNull();
  else
    expect(Math.abs(Number(came) - expected)).toBeLessThanOrEqual(
      1e-9 * Math.max(1, Math.abs(expected)),
    );
}

function keyed<T>(rows: readonly T[], key: (row: T) => string): Map<string, T> {
  return new Map(rows.map((row) => [key(row), row]));
}

function grouped<T>(rows: readonly T[], key: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) groups.set(key(row), [...(groups.get(key(row)) ?? []), row]);
  return groups;
}
