import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries, Instant, StudySeries } from "../series/animal-series.js";
import { isDeath } from "../series/is-death.js";
import { dayMs } from "../units/day-ms.js";

export interface MilestoneOptions {
  readonly species: string;
  /** As written in the records, e.g. "first unaided dive"; compared without regard to case. */
  readonly milestone: string;
  /** Days since birth (default) or since admission. Age needs a usable birth date. */
  readonly scale?: "age" | "since admission";
  /** Only these seasons. Default: all. */
  readonly seasons?: readonly string[];
}

/**
 * When one animal reached a milestone, as far as the looks tell: after the last
 * "not yet" and not after the first "seen". Days on the chosen scale.
 */
export interface MilestoneTime {
  readonly animalId: string;
  readonly season: string | null;
  /** When the animal came under observation on this scale: it could not be seen to reach it before. */
  readonly entered: number;
  readonly after: number;
  /** Null where it had not been seen by the last look. */
  readonly by: number | null;
  /** What ended the observation where the milestone was not seen. */
  readonly ended: "seen" | "still in care" | "died" | "left";
  /** Day of the last record or of leaving, on the scale. */
  readonly last: number;
  readonly looks: number;
}

export interface MilestoneTimes {
  readonly milestone: string;
  readonly species: string;
  readonly scale: "age" | "since admission";
  readonly times: readonly MilestoneTime[];
  readonly leftOut: readonly { readonly animalId: string; readonly why: Notice }[];
  readonly notices: readonly Notice[];
}

/**
 * Reads the times of one milestone from the observations of kind "milestone"
 * (status "not yet" or "seen" in the value, the name in the notes), and of two
 * milestones that other tables tell exactly: "first solid" from the feeds and
 * "voluntary platform weighing" from the method of the weighings.
 *
 * An animal that died or left first is neither seen nor merely not yet seen: it
 * can no longer reach it here, and `ended` says so. An animal in which the
 * milestone was past at admission is left out and counted, because animals like
 * it were not under observation when they reached it.
 *
 * @example milestoneTimes(series, { species: "sea otter", milestone: "first solid" }).times.length // 21
 */
export function milestoneTimes(study: StudySeries, options: MilestoneOptions): MilestoneTimes {
  const scale = options.scale ?? "age";
  const times: MilestoneTime[] = [];
  const leftOut: { animalId: string; why: Notice }[] = [];
  const notices: Notice[] = [];
  for (const animal of study.animals) {
    const { animalId, species, season } = animal.animal;
    if (species !== options.species) continue;
    if (options.seasons && (season === null || !options.seasons.includes(season))) continue;
    const leave = (
      code:
        | "milestone-age-unusable"
        | "milestone-no-start"
        | "milestone-never-looked"
        | "milestone-past-at-admission",
    ) => {
      const why = notice(code, "info", { animal: animalId, milestone: options.milestone });
      leftOut.push({ animalId, why });
    };
    const admitted = animal.animal.admittedAt ?? animal.span?.from ?? null;
    const zero = scale === "age" ? animal.age.birth : admitted;
    if (scale === "age" && !animal.age.usableForWeightForAge) {
      leave("milestone-age-unusable");
      continue;
    }
    if (zero === null || admitted === null || animal.span === null) {
      leave("milestone-no-start");
      continue;
    }
    const days = (at: Instant) => (at - zero) / dayMs;
    const looks = looksAt(animal, options.milestone);
    const seen = looks.find((l) => l.seen);
    const before = looks.filter((l) => !l.seen && (seen === undefined || l.at < seen.at));
    if (looks.some((l) => !l.seen && seen !== undefined && l.at > seen.at))
      notices.push(
        notice("milestone-not-yet-after-seen", "caution", {
          animal: animalId,
          milestone: options.milestone,
        }),
      );
    if (looks.length === 0) {
      leave("milestone-never-looked");
      continue;
    }
    const entered = days(admitted);
    const after = Math.max(entered, before.length > 0 ? days(before.at(-1)!.at) : entered);
    if (seen !== undefined && days(seen.at) <= entered) {
      leave("milestone-past-at-admission");
      continue;
    }
    times.push({
      animalId,
      season,
      entered,
      after: seen?.exact === true ? days(seen.at) : after,
      by: seen === undefined ? null : days(seen.at),
      ended: seen !== undefined ? "seen" : endOf(animal),
      last: days(animal.span.to),
      looks: looks.length,
    });
  }
  return { milestone: options.milestone, species: options.species, scale, times, leftOut, notices };
}

/**
 * Names of the milestones the records of a species speak of, most looks first.
 *
 * @example milestonesIn(series, "sea otter") // ["first solid", "dives", ...]
 */
export function milestonesIn(study: StudySeries, species: string): readonly string[] {
  const count = new Map<string, number>();
  for (const animal of study.animals)
    if (animal.animal.species === species)
      for (const { kind, row } of animal.signs)
        if (kind === "milestone" && row.notes !== null)
          count.set(row.notes, (count.get(row.notes) ?? 0) + 1);
  return [...count].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([name]) => name);
}

interface Look {
  readonly at: Instant;
  readonly seen: boolean;
  /** The record is the event itself, not a later look. */
  readonly exact: boolean;
}

function looksAt(animal: AnimalSeries, milestone: string): Look[] {
  const name = milestone.toLowerCase();
  if (name === "first solid") {
    const solid = animal.feeds.find(
      (f) => f.composition?.kind === "solid" && (f.eatenG ?? f.eatenHighG) > 0,
    );
    if (solid !== undefined) return [{ at: solid.at, seen: true, exact: true }];
    const last = animal.feeds.at(-1);
    return last === undefined
      ? recorded(animal, name)
      : [{ at: last.at, seen: false, exact: false }];
  }
  if (name === "voluntary platform weighing") {
    const first = animal.weighings.find((w) => w.row.method === "voluntary");
    if (first !== undefined) return [{ at: first.at, seen: true, exact: true }];
    const last = animal.weighings.at(-1);
    if (last !== undefined) return [{ at: last.at, seen: false, exact: false }];
  }
  return recorded(animal, name);
}

function recorded(animal: AnimalSeries, name: string): Look[] {
  return animal.signs
    .filter(({ kind, row }) => kind === "milestone" && (row.notes ?? "").toLowerCase() === name)
    .flatMap((sign): Look[] => {
      const seen = sign.state === "present";
      return seen || sign.state === "none" ? [{ at: sign.at, seen, exact: false }] : [];
    })
    .sort((a, b) => a.at - b.at);
}

function endOf(animal: AnimalSeries): "still in care" | "died" | "left" {
  const { outcome } = animal.animal;
  if (outcome === null || outcome === "in care") return "still in care";
  return isDeath(outcome) ? "died" : "left";
}
