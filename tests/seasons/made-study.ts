import { notice } from "../../src/core/notice.js";
import { seededRandom } from "../../src/core/random.js";
import type { AnimalRow, ObservationRow, StudySettings } from "../../src/records/study.js";
import type {
  AnimalSeries,
  DailyMass,
  NetWeighing,
  SeriesFeed,
  StudySeries,
} from "../../src/series/animal-series.js";
import { signsOf } from "../../src/series/signs/signs-of.js";
import { ordersFrom } from "../series/plan-row.js";

const dayMs = 86_400_000;
const birth0 = Date.UTC(2020, 0, 1, 15);

export interface MadeAnimal {
  readonly id: string;
  readonly season: string;
  readonly species?: string;
  readonly sex?: AnimalRow["sex"];
  readonly arrivalAgeD?: number;
  readonly arrivalMassG?: number;
  readonly gain: number;
  readonly untilAgeD?: number;
  readonly noiseG?: number;
  readonly outcome?: AnimalRow["outcome"];
  readonly rangeDays?: number;
  readonly usable?: boolean;
  readonly birthAt?: number;
  readonly observations?: readonly {
    readonly ageD: number;
    readonly text: string;
    readonly notes: string;
  }[];
  /** Weighed once of its own will on this day of age. */
  readonly voluntaryFromAgeD?: number;
  /** Fed clam once on this day of age. */
  readonly solidFromAgeD?: number;
  /** Multiplies the gain from this age on. */
  readonly changeAtD?: { readonly ageD: number; readonly times: number };
}

/** A study made by hand: straight growth with noise, weighed daily. No reader takes part. */
export function madeStudy(animals: readonly MadeAnimal[], seed = 5): StudySeries {
  return {
    settings,
    animals: animals.map((a, i) => series(a, i, seed)),
    scaleChecks: [],
    batches: [],
    events: [],
    notices: [],
  };
}

const settings: StudySettings = {
  title: "made by hand",
  species: ["sea otter", "harbour seal"],
  zone: "UTC",
  feedingDayStartHour: 6,
  blankTareIsZero: false,
  blankRefusalIsNone: false,
  dateStyle: "year-month-day",
  decimal: "point",
  scaleErrorG: {},
  speciesOverrides: {},
};

function series(a: MadeAnimal, index: number, seed: number): AnimalSeries {
  const random = seededRandom(seed).split(index);
  const birth = a.birthAt ?? birth0 + index * 3 * dayMs;
  const arrivalAge = a.arrivalAgeD ?? 6;
  const mass0 = a.arrivalMassG ?? 1800;
  const daily: DailyMass[] = [];
  for (let age = arrivalAge; age <= (a.untilAgeD ?? 100); age++) {
    const change = a.changeAtD;
    const plain = Math.min(age, change?.ageD ?? age) - arrivalAge;
    const changed = change === undefined ? 0 : Math.max(0, age - change.ageD) * change.times;
    const massG = mass0 + a.gain * (plain + changed) + (a.noiseG ?? 12) * random.normal();
    const at = birth + age * dayMs;
    daily.push({
      feedingDay: new Date(at).toISOString().slice(0, 10),
      at,
      massG,
      ageD: age,
      sinceAdmissionD: age - arrivalAge,
      errorG: 10,
      usualCondition: true,
      nWeighings: 1,
    });
  }
  const admittedAt = birth + arrivalAge * dayMs;
  const range = a.rangeDays ?? 0;
  const observations = (a.observations ?? []).map(
    (o, line): ObservationRow => ({
      animalId: a.id,
      at: birth + o.ageD * dayMs,
      kind: "milestone",
      value: null,
      valueText: o.text,
      unit: null,
      notes: o.notes,
      origin: { file: "observations.csv", line: line + 2 },
    }),
  );
  return {
    animal: {
      animalId: a.id,
      name: null,
      species: a.species ?? "sea otter",
      sex: a.sex ?? (index % 2 === 0 ? "female" : "male"),
      birthDateEarliest: null,
      birthDateLatest: null,
      birthDateBasis: "observed",
      admittedAt,
      season: a.season,
      outcome: a.outcome ?? "released",
      outcomeReason: null,
      outcomeDate: null,
      notes: null,
      origin: { file: "animals.csv", line: index + 2 },
    },
    age: {
      birthEarliest: birth - (range / 2) * dayMs,
      birthLatest: birth + (range / 2) * dayMs,
      birth,
      rangeDays: range,
      usableForWeightForAge: a.usable ?? true,
    },
    weighings:
      a.voluntaryFromAgeD === undefined ? [] : [voluntary(a.id, birth, a.voluntaryFromAgeD)],
    daily,
    feeds: a.solidFromAgeD === undefined ? [] : [solid(a.id, birth, a.solidFromAgeD)],
    sharedFeeds: [],
    signs: signsOf(observations, { decimal: "point" }),
    orders: ordersFrom([]),
    span: { from: admittedAt, to: daily.at(-1)?.at ?? admittedAt },
    notices: [],
  };
}

function voluntary(animalId: string, birth: number, ageD: number): NetWeighing {
  const at = birth + ageD * dayMs;
  return {
    row: {
      animalId,
      at,
      massG: 4000,
      tareG: 0,
      scaleId: null,
      method: "voluntary",
      coat: "dry",
      meal: "before",
      notes: null,
      origin: { file: "weighings.csv", line: 2 },
    },
    at,
    feedingDay: new Date(at).toISOString().slice(0, 10),
    netG: 4000,
    ageD,
    sinceAdmissionD: null,
    standing: "shown only",
    why: notice("series-other-stands", "info"),
    slip: null,
  };
}

function solid(animalId: string, birth: number, ageD: number): SeriesFeed {
  const at = birth + ageD * dayMs;
  return {
    row: {
      animalId,
      groupId: null,
      at,
      dietId: "clam",
      batchId: null,
      offeredG: 20,
      refusedG: 5,
      route: "hand",
      notes: null,
      origin: { file: "feeds.csv", line: 2 },
    },
    at,
    feedingDay: new Date(at).toISOString().slice(0, 10),
    offeredG: 20,
    eatenG: 15,
    eatenLowG: 15,
    eatenHighG: 15,
    composition: {
      kind: "solid",
      waterPct: 79,
      proteinPct: 14.7,
      fatPct: 1,
      carbohydratePct: 3.6,
      fibrePct: 0,
      ashPct: 1.7,
      energyKcalPerG: 0.82,
    },
    densityGPerMl: null,
    dietId: "clam",
    batchAgeH: null,
    useByH: null,
  };
}
