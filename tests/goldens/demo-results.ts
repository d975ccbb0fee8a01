import { fileURLToPath } from "node:url";
import { analyse } from "../../src/analysis/analyse.js";
import { animalOf } from "../../src/analysis/animal-of.js";
import { changeOfGain } from "../../src/analysis/change-of-gain.js";
import { contemporaryFeeding } from "../../src/analysis/contemporary-feeding.js";
import { examinationQuestions } from "../../src/analysis/examination-questions.js";
import { expectedWeek } from "../../src/analysis/expected-week.js";
import { intakeAtTheMargin } from "../../src/analysis/intake-at-the-margin.js";
import { realOrNot } from "../../src/analysis/real-or-not.js";
import { seasonResults } from "../../src/analysis/season-results.js";
import { whatHappened } from "../../src/analysis/what-happened.js";
import { whatWouldChange } from "../../src/analysis/what-would-change.js";
import { missingGrams } from "../../src/flags/missing-grams.js";
import { compareRations } from "../../src/planning/compare-rations.js";
import { forecastAnimals } from "../../src/planning/forecast-animals.js";
import { planDay } from "../../src/planning/plan-day.js";
import { planShift } from "../../src/planning/plan-shift.js";
import { weaningProgress } from "../../src/planning/weaning-progress.js";
import { expectedGains } from "../../src/rates/expected-gains.js";
import { feedingRhythm } from "../../src/rates/feeding-rhythm.js";
import { massForLength } from "../../src/rates/mass-for-length.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { addDays, localInstant, numberOfDate } from "../../src/units/calendar.js";
import { dayMs } from "../../src/units/day-ms.js";

/** The study whose results are held: the demo as it stood when the goldens were made. */
export const fixtureDemo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

/** One named result; every number of it counts. */
export type Piece = readonly [name: string, result: unknown];

/** Records, histories and the day's analysis: what `npm test` compares. */
export async function* coreResults(): AsyncGenerator<Piece> {
  const study = await readStudy(fixtureDemo);
  for (const [table, rows] of Object.entries(study.tables)) yield [`records ${table}`, rows];
  yield ["records set aside", study.setAside];
  yield ["records notices", study.notices];
  const analysis = await analyse(study);
  const { value } = analysis;
  yield ["analysis missing", value.records.missing];
  yield ["analysis slips", value.records.slips];
  for (const each of value.animals) {
    const id = each.animalId;
    yield [`${id} history`, each.series];
    yield [`${id} phases`, each.phases];
    yield [`${id} gain`, [each.smoothedMass, each.gain]];
    yield [`${id} intake`, [each.intake.value, each.recentIntake]];
    yield [`${id} conversion`, each.conversion.value];
    yield [`${id} curves`, [each.curves.map((c) => [c.fit.value, c.trace]), each.curveChoice]];
    yield [`${id} z`, each.z];
    yield [`${id} day`, each.day];
  }
  yield ["flags counts", value.flags.value.counts];
  yield ["flags episodes", value.flags.value.episodes];
  yield ["flags shared causes", value.flags.value.sharedCauses];
}

/** The readers' questions: what the long check compares as well. */
export async function* questionResults(): AsyncGenerator<Piece> {
  const study = await readStudy(fixtureDemo);
  yield* slowGainer(study);
  yield* feeding(study);
  yield* seasons(study);
}

type Study = Awaited<ReturnType<typeof readStudy>>;

async function* slowGainer(study: Study): AsyncGenerator<Piece> {
  const analysis = (await analyse(study, { onDay: "2024-04-20" })).value;
  const animal = animalOf(analysis, "O24-02");
  const change = changeOfGain(analysis, animal);
  yield ["slow gainer change", change.value];
  const real = realOrNot(analysis, animal, { change: change.value });
  yield ["slow gainer real", real.value];
  const missing = missingGrams(analysis.series, animal.animalId, {
    from: addDays(analysis.onDay, -14),
    to: analysis.onDay,
    earlierSeasons: true,
  });
  yield ["slow gainer missing grams", missing.value];
  const margin = intakeAtTheMargin(analysis, animal, missing.value);
  yield ["slow gainer margin", margin];
  const week = expectedWeek(analysis, animal);
  yield ["slow gainer expected week", week.value];
  const options = { week: week.value, change: change.value };
  yield ["slow gainer what would change", whatWouldChange(analysis, animal, options).value];
  const happened = whatHappened(analysis, animal, {
    from: (animal.series.span?.to ?? 0) - 42 * dayMs,
    housing: study.tables.housing,
  });
  yield ["slow gainer happened", happened];
  const from = (animal.series.span?.to ?? 0) - 14 * dayMs;
  yield [
    "slow gainer rhythm",
    feedingRhythm(animal.series, { settings: analysis.settings, from }).value,
  ];
  const same = analysis.animals.filter((a) => a.species === animal.species);
  yield ["slow gainer mass for length", massForLength(same.map((a) => a.series)).value];
  yield ["slow gainer contemporaries' feeding", contemporaryFeeding(analysis, animal)];
  const found = { real: real.value, change: change.value, missing: missing.value };
  const more = { margin: margin.value, happened };
  yield ["slow gainer examination", examinationQuestions(analysis, animal, { ...found, ...more })];
  yield ["slow gainer day", animal.day];
}

async function* feeding(study: Study): AsyncGenerator<Piece> {
  const analysis = (await analyse(study, { onDay: "2024-05-20", curves: [] })).value;
  const { series, settings } = analysis;
  const at = localInstant(numberOfDate("2024-05-20") * dayMs + 20 * 3_600_000, settings.zone);
  const planned = planDay(series, { at }).value;
  yield ["feeding rations", planned.rations];
  yield ["feeding sheet", planned.sheet];
  yield ["feeding batches", planned.batches];
  yield ["feeding shift", planShift(series, { until: at })];
  const free = planned.rations.filter((r) => r.status === "ration").map((r) => r.animalId);
  const first = series.animals.find((s) => s.animal.animalId === free[0])!;
  yield ["feeding scenarios", compareRations(first, { settings, at }).value];
  const inCare = planned.rations.map((r) => r.animalId);
  const otters = series.animals.filter((s) => s.animal.species === "sea otter");
  yield ["feeding gains", expectedGains(otters, { settings, at, animals: inCare }).value];
  yield [
    "feeding weaning",
    analysis.animals
      .filter((a) => inCare.includes(a.animalId))
      .map((a) => [a.animalId, weaningProgress(a.intake.value).value]),
  ];
  const forecast = forecastAnimals(series, { species: "sea otter", at, targetG: 7000 });
  yield ["feeding forecast", forecast.value];
}

async function* seasons(study: Study): AsyncGenerator<Piece> {
  const analysis = (await analyse(study, { curves: [] })).value;
  const all = seasonResults(analysis, { seed: 1 });
  yield ["seasons summaries", all.summaries.value];
  yield ["seasons by formula", all.byFormula.value];
  yield ["seasons by sex", all.bySex.value];
  for (const each of all.compared) {
    const { species } = each.comparison.value;
    yield [`seasons comparison ${species}`, each.comparison.value];
    yield [`seasons curves ${species}`, each.curves.value];
  }
  for (const [at, each] of all.changes.entries()) {
    yield [`seasons change ${at}`, each.change.value];
  }
  for (const each of all.milestones) {
    yield [`seasons milestones ${each.species}`, each.all.value];
    for (const one of each.bySeason) {
      yield [`seasons milestones ${each.species} ${one.season}`, one.overview.value];
    }
  }
}
