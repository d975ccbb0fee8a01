import type { AnimalDay } from "../../src/flags/animal-day/flag.js";
import type { Signal, SignalKind } from "../../src/flags/animal-day/signal.js";
import type { Replay } from "../../src/flags/replay.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { localNoon } from "../../src/units/calendar.js";
import { dayMs } from "../../src/units/day-ms.js";

/** One animal's days in care and what opened on them. */
export interface AnimalCount {
  readonly weeks: number;
  /** Openings by name: a rule, or "danger", "practice", "weighings", "list", or one of them with a phase or an age. */
  readonly openings: Readonly<Record<string, number>>;
  /** Weeks by phase and by age, under the same names as in `openings`. */
  readonly weeksOf: Readonly<Record<string, number>>;
}

/** Days without it after which a run of trouble is over; the rule of the episodes. */
const quiet = 3;

/**
 * Counts, animal by animal, how often each rule opened: raised on a day, and not
 * raised on any of the 3 days before. "practice", "danger" and "weighings" are runs
 * of days on which any rule of that class is raised; "list" is an episode, what a
 * keeper sees as one entry.
 */
export function countOpeningsByRule(study: StudySeries, replay: Replay): readonly AnimalCount[] {
  const births = new Map(study.animals.map((a) => [a.animal.animalId, a.age.birth]));
  const days = new Map<string, AnimalDay[]>();
  for (const list of replay.days) {
    for (const animal of list.animals) {
      const known = days.get(animal.animalId);
      if (known === undefined) days.set(animal.animalId, [animal]);
      else known.push(animal);
    }
  }
  return [...days].map(([id, own]) => {
    const openings: Record<string, number> = {};
    const weeksOf: Record<string, number> = {};
    const last = new Map<string, number>();
    const birth = births.get(id) ?? null;
    own.forEach((today, i) => {
      const noon = localNoon(today.day, study.settings.zone);
      const places = [
        `phase ${today.phase ?? "unknown"}`,
        `age ${ageBand(birth === null ? null : (noon - birth) / dayMs)}`,
      ];
      for (const place of places) weeksOf[place] = (weeksOf[place] ?? 0) + 1 / 7;
      const add = (name: string) => {
        for (const key of [name, ...places.map((p) => `${name}, ${p}`)])
          openings[key] = (openings[key] ?? 0) + 1;
      };
      for (const name of namesOf(today.raised)) {
        const before = last.get(name);
        if (before === undefined || i - before > quiet) add(name);
        last.set(name, i);
      }
      if (today.episode?.openedOn === today.day) add("list");
    });
    return { weeks: own.length / 7, openings, weeksOf };
  });
}

function namesOf(raised: readonly Signal[]): Set<string> {
  const names = new Set<SignalKind | "weighings" | "danger" | "practice">();
  for (const s of raised) {
    names.add(s.kind);
    names.add(s.class === "statistical" ? "weighings" : s.class);
  }
  return names;
}

function ageBand(ageD: number | null): string {
  if (ageD === null) return "unknown";
  return ageD < 28 ? "under 28 d" : ageD < 60 ? "28-59 d" : ageD < 120 ? "60-119 d" : "120 d on";
}

/**
 * Rate per 100 animal-weeks with 95 % Monte Carlo limits: a ratio of sums whose
 * error comes from the spread between animals (linearised ratio estimator).
 */
export function ratePer100Weeks(counts: readonly AnimalCount[], name: string, place?: string) {
  const key = place === undefined ? name : `${name}, ${place}`;
  const weeks = counts.map((c) => (place === undefined ? c.weeks : (c.weeksOf[place] ?? 0)));
  const opened = counts.map((c) => c.openings[key] ?? 0);
  const total = weeks.reduce((a, b) => a + b, 0);
  const n = opened.reduce((a, b) => a + b, 0);
  const rate = total > 0 ? n / total : 0;
  const spread = opened.reduce((sum, x, i) => sum + (x - rate * weeks[i]!) ** 2, 0);
  const error = total > 0 ? Math.sqrt((spread * counts.length) / (counts.length - 1)) / total : 0;
  const round = (x: number) => Number((100 * x).toFixed(3));
  return {
    openings: n,
    animalWeeks: Math.round(total),
    per100Weeks: round(rate),
    limits: [round(Math.max(0, rate - 1.96 * error)), round(rate + 1.96 * error)],
  };
}
