import { feedPartsReader } from "../rates/feed-parts.js";
import { phasesOf } from "../rates/phases-of.js";
import { usableFeeds } from "../rates/usable-feeds.js";
import type { Study } from "../records/study.js";
import { conversionWindows } from "../seasons/conversion-windows.js";
import { mainFormula } from "../seasons/main-formula.js";
import { type MilestoneTime, milestonesIn, milestoneTimes } from "../seasons/milestone-times.js";
import type { AnimalSeries, StudySeries } from "../series/animal-series.js";
import { buildSeries } from "../series/build-series.js";
import { feedingDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { CountedTable } from "./archived-tables.js";
import type { Cell } from "./load-engine.js";
import type { TableRows, UniqueId } from "./table-rows.js";

/** Rows as objects, gathered table by table. */
type Row = Readonly<Record<string, Cell>>;
type Gathered = Record<CountedTable, { readonly season: string | null; readonly row: Row }[]>;

/**
 * The rows of a study as they count: what `series` and `rates` say of every weighing and
 * feed, and of every animal. Sums over these rows are the sums of the single study.
 */
export function countedRows(study: Study, facility: string, idOf: UniqueId): TableRows[] {
  const series = buildSeries(study);
  const gathered: Gathered = {
    weighings_counted: [],
    feeds_counted: [],
    shared_feeds: [],
    stays: [],
    conversion_windows: [],
    milestones: [],
  };
  for (const animal of series.animals) {
    const { animalId, season, species } = animal.animal;
    const who = { animal: idOf(animalId), animal_id: animalId, species };
    const put = (table: CountedTable, rows: readonly Row[]) => {
      for (const row of rows) gathered[table].push({ season, row: { ...who, ...row } });
    };
    put("weighings_counted", weighingsOf(animal));
    put("feeds_counted", feedsOf(animal, facility));
    put("stays", [stayOf(animal)]);
    put("conversion_windows", windowsOf(animal, series));
    for (const { at } of animal.sharedFeeds) {
      const { zone, feedingDayStartHour } = series.settings;
      const row = { at_utc: at, feeding_day: feedingDayOf(at, zone, feedingDayStartHour) };
      gathered.shared_feeds.push({
        season,
        row: { animal: who.animal, animal_id: animalId, ...row },
      });
    }
  }
  for (const { time, ...row } of milestonesOf(series))
    gathered.milestones.push({
      season: time.season,
      row: { ...row, animal: idOf(time.animalId), ...numbersOf(time) },
    });
  return Object.entries(gathered).map(([table, rows]) => ({
    table: table as CountedTable,
    seasons: rows.map((r) => r.season),
    columns: columnsOf(rows.map((r) => r.row)),
  }));
}

function weighingsOf({ weighings, daily, age }: AnimalSeries): Row[] {
  const standing = new Map(daily.map((d) => [d.at, d]));
  return weighings.map((w) => {
    const stands = w.standing === "stands for the day";
    return {
      at_utc: w.at,
      feeding_day: w.feedingDay,
      net_g: w.netG,
      error_g: stands ? (standing.get(w.at)?.errorG ?? null) : null,
      age_d: w.ageD,
      since_admission_d: w.sinceAdmissionD,
      age_usable: age.usableForWeightForAge,
      stands_for_day: stands,
      suspected_slip: w.slip !== null,
      decision: w.decision?.decision ?? null,
    };
  });
}

function feedsOf(series: AnimalSeries, facility: string): Row[] {
  const usable = new Map(usableFeeds(series).feeds.map((u) => [u.feed, u.eatenG]));
  const read = feedPartsReader("stated, else general");
  return series.feeds.map((feed) => {
    const eaten = usable.get(feed);
    const parts = read(feed);
    return {
      at_utc: feed.at,
      feeding_day: feed.feedingDay,
      diet: feed.dietId === null ? null : `${facility}/${feed.dietId}`,
      diet_id: feed.dietId,
      diet_kind: parts.kind,
      route: feed.row.route,
      offered_g: feed.offeredG,
      eaten_g: feed.eatenG,
      eaten_low_g: eaten?.low ?? null,
      eaten_high_g: eaten?.high ?? null,
      kcal_per_g: parts.kcalPerG,
      dry_matter_per_g: parts.dryMatterPerG,
      water_per_g: parts.waterPerG,
      protein_per_g: parts.proteinPerG,
      fat_per_g: parts.fatPerG,
      usable: eaten !== undefined,
      doubted: feed.slip !== undefined,
      decision: feed.decision?.decision ?? null,
    };
  });
}

function stayOf(series: AnimalSeries): Row {
  const { animal, daily, age, span } = series;
  const start = animal.admittedAt ?? span?.from ?? null;
  const usable = start !== null && age.birth !== null && age.usableForWeightForAge;
  return {
    sex: animal.sex,
    outcome: animal.outcome,
    main_diet: mainFormula(series),
    admitted_at: start,
    record_from: span?.from ?? null,
    record_to: span?.to ?? null,
    arrival_mass_g: daily[0]?.massG ?? null,
    arrival_age_d: usable ? (start - age.birth!) / dayMs : null,
    days_in_care: start === null || span === null ? null : (span.to - start) / dayMs,
    age_usable: age.usableForWeightForAge,
  };
}

function windowsOf(animal: AnimalSeries, { settings }: StudySeries): Row[] {
  const { phases } = phasesOf(animal, { settings }).value;
  return phases.flatMap(({ phase, from, to }) =>
    conversionWindows(animal, from, to ?? animal.span?.to ?? from).map((w) => ({
      phase,
      window_from: w.from,
      window_to: w.to,
      kcal: w.kcal,
      gained_g: w.gainedG,
    })),
  );
}

/** Milestones that other tables tell, beside those that the observations name. */
const alwaysAsked = ["first solid", "voluntary platform weighing"];

function milestonesOf(series: StudySeries) {
  const all = [...new Set(series.animals.map((a) => a.animal.species))].sort();
  return all.flatMap((species) => {
    const own = milestonesIn(series, species).map((name) => name.toLowerCase());
    return [...new Set([...alwaysAsked, ...own])].flatMap((milestone) =>
      (["age", "since admission"] as const).flatMap((scale) =>
        milestoneTimes(series, { species, milestone, scale }).times.map((time) => ({
          time,
          animal_id: time.animalId,
          species,
          milestone,
          scale,
        })),
      ),
    );
  });
}

const numbersOf = (time: MilestoneTime): Row => ({
  ended: time.ended,
  entered_d: time.entered,
  after_d: time.after,
  by_d: time.by,
  last_d: time.last,
  looks: time.looks,
});

function columnsOf(rows: readonly Row[]): ReadonlyMap<string, readonly Cell[]> {
  const names = Object.keys(rows[0] ?? {});
  return new Map(names.map((name) => [name, rows.map((row) => row[name] ?? null)]));
}
