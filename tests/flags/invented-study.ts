import { notice } from "../../src/core/notice.js";
import { seededRandom } from "../../src/core/random.js";
import type {
  AnimalSeries,
  DailyMass,
  ObservationRow,
  StudySeries,
} from "../../src/series/animal-series.js";
import { signsOf } from "../../src/series/signs/signs-of.js";
import { addDays, localNoon } from "../../src/units/calendar.js";
import { ordersFrom } from "../series/plan-row.js";

const dayMs = 86_400_000;
/** Lines of an invented table of observations, read. */
export const signsFrom = (rows: readonly ObservationRow[]) => signsOf(rows, { decimal: "point" });
export const origin = { file: "invented.csv", line: 2 };

export interface InventedAnimal {
  readonly id: string;
  readonly birth: string;
  readonly species?: string;
  /** Mass on the days after birth, g; null where not weighed. */
  readonly masses: readonly (number | null)[];
  /** Age in whole days of the first mass. Default 0. */
  readonly firstAge?: number;
  readonly errorG?: number;
  readonly ageReliable?: boolean;
  readonly rangeDays?: number;
  readonly outcome?: AnimalSeries["animal"]["outcome"];
  readonly outcomeDate?: string;
  readonly observations?: readonly ObservationRow[];
}

/** An invented animal weighed at 08:00 UTC each day; feeding days begin at midnight UTC. */
export function inventedSeries(a: InventedAnimal): AnimalSeries {
  const noon = localNoon(a.birth, "UTC");
  const first = a.firstAge ?? 0;
  const daily: DailyMass[] = a.masses.flatMap((massG, i) => {
    if (massG === null) return [];
    const feedingDay = addDays(a.birth, first + i);
    const at = localNoon(feedingDay, "UTC") - dayMs / 6;
    return [
      {
        feedingDay,
        at,
        massG,
        ageD: (at - noon) / dayMs,
        sinceAdmissionD: i,
        errorG: a.errorG ?? massG * 0.015,
        usualCondition: true,
        nWeighings: 1,
      },
    ];
  });
  const admittedAt = localNoon(addDays(a.birth, first), "UTC") - dayMs / 6;
  return {
    animal: {
      animalId: a.id,
      name: null,
      species: a.species ?? "sea otter",
      sex: "unknown",
      birthDateEarliest: a.birth,
      birthDateLatest: a.birth,
      birthDateBasis: a.ageReliable === false ? "mass" : "observed",
      admittedAt,
      season: null,
      outcome: a.outcome ?? "in care",
      outcomeReason: null,
      outcomeDate: a.outcomeDate ?? null,
      notes: null,
      origin,
    },
    age: {
      birthEarliest: noon,
      birthLatest: noon,
      birth: noon,
      rangeDays: a.rangeDays ?? 0,
      usableForWeightForAge: a.ageReliable ?? true,
    },
    weighings: daily.map((d) => ({
      row: {
        animalId: a.id,
        at: d.at,
        massG: d.massG,
        tareG: 0,
        scaleId: "S1",
        method: "bucket",
        coat: "dry",
        meal: "before",
        notes: null,
        origin,
      },
      at: d.at,
      feedingDay: d.feedingDay,
      netG: d.massG,
      ageD: d.ageD,
      sinceAdmissionD: d.sinceAdmissionD,
      standing: "stands for the day",
      why: notice("flags-no-diagnosis", "info"),
      slip: null,
    })),
    daily,
    feeds: [],
    sharedFeeds: [],
    signs: signsFrom(a.observations ?? []),
    orders: ordersFrom([]),
    span: daily.length > 0 ? { from: admittedAt, to: daily.at(-1)!.at } : null,
    notices: [],
  };
}

export function inventedStudy(animals: readonly AnimalSeries[]): StudySeries {
  return {
    settings: {
      title: "Invented",
      species: ["sea otter"],
      zone: "UTC",
      feedingDayStartHour: 0,
      blankTareIsZero: true,
      blankRefusalIsNone: true,
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

/** `n` healthy invented animals, 1 %/d, with 1.5 % independent noise. */
export function healthyStudy(n: number, days: number, seed: number): StudySeries {
  const random = seededRandom(seed);
  return inventedStudy(
    Array.from({ length: n }, (_, i) => {
      const start = 1900 * Math.exp(0.1 * random.normal());
      const rate = 0.01 + 0.0012 * random.normal();
      return inventedSeries({
        id: `P${String(i + 1).padStart(2, "0")}`,
        birth: addDays("2031-03-01", Math.floor(10 * random.uniform())),
        firstAge: 5,
        masses: Array.from({ length: days }, (_, d) =>
          Math.round(start * Math.exp(rate * d + 0.015 * random.normal())),
        ),
      });
    }),
  );
}
