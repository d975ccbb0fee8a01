import { measured } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import type { FeedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import type { NotJudged } from "../animal-day/flag.js";
import { lastUpTo, type PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";
import type { Excretion, WhatIsWritten } from "./what-is-written.js";

/** Fewest days and animals from which a facility's habit of writing can be told. */
const fewestDays = 30;
const fewestAnimals = 3;

/**
 * No stool, or no urine, recorded for N hours, in the very young. Where the records
 * of other young leave such gaps regularly, absence from the record says nothing
 * about the animal: not judged, with the share. Where they are kept regularly, a
 * newcomer without any record is judged from its admission on.
 */
export function excretionSignal(
  animal: PreparedAnimal,
  day: CivilDate,
  span: FeedingDaySpan,
  ageD: number | null,
  kind: Excretion,
  written: WhatIsWritten,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const limitH = kind === "stool" ? limits.stoolH : limits.urineH;
  if (limitH === null) return [];
  const what = kind === "stool" ? ("no stool" as const) : ("no urine" as const);
  const notJudged = (why: Notice) => [{ kind: what, why }];
  const about = { animal: animal.id, kind };
  // Of unknown age, it is at least as old as it has been in care.
  const { admittedAt } = animal.series.animal;
  const age = ageD ?? (admittedAt === null ? null : (span.from - admittedAt) / dayMs);
  if (age !== null && age >= limits.excretionUnderD)
    return notJudged(
      notice("flag-old-enough", "info", { ...about, age, limit: limits.excretionUnderD }),
    );

  const habit = written.habit(kind, animal.id, day);
  const known = habit.days >= fewestDays;
  if (
    known &&
    limits.excretionGapsPct !== null &&
    habit.gapsPct! > limits.excretionGapsPct &&
    habit.animals >= fewestAnimals
  )
    return notJudged(
      notice("flag-excretion-not-written", "info", {
        ...about,
        gaps: habit.gapsPct,
        days: habit.days,
        limit: limitH,
      }),
    );
  const seen = animal.excretedAt[kind];
  const last = seen[lastUpTo(seen, span.to - 1)];
  const since = last ?? (known ? admittedAt : null);
  if (since === null || since === undefined)
    return notJudged(notice("flag-never-recorded", "info", about));
  const hours = Math.max(0, written.until(span) - since) / hourMs;
  const signal: Signal = ruleSignal({
    class: "danger",
    kind: what,
    direction: "low",
    raised: hours >= limitH,
    strength: hours / limitH,
    value: measured(hours, "h"),
    threshold: limitH,
    evidence: { hours, lastAt: last ?? null, admittedAt: last ? null : since },
    sentence: notice(last === undefined ? "flag-no-excretion-yet" : "flag-no-excretion", "info", {
      animal: animal.id,
      kind,
      hours,
      last: since,
      limit: limitH,
    }),
  });
  return [signal];
}
