import { measured } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { CivilDate, DailyMass } from "../series/animal-series.js";
import { bandAt } from "../species/age-band.js";
import { daysBetween, type FeedingDaySpan } from "../units/calendar.js";
import type { NotJudged, Signal } from "./flag.js";
import { lastUpTo, type PreparedAnimal } from "./prepared-animal.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

const hourMs = 3_600_000;

/**
 * The single-observation danger rules of one animal on one day: temperature
 * outside the species range, no stool or urine recorded for N hours, a gap in
 * the feeds, an acute loss. They stand outside the budget of false flags and are
 * never thinned by it. A rule without the records it needs is not judged.
 */
export function dangerSignals(
  animal: PreparedAnimal,
  day: CivilDate,
  span: FeedingDaySpan,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const row = rowUpTo(animal, day);
  const ageD = row?.ageD ?? null;
  return [
    ...temperature(animal, day, limits),
    ...excretion(animal, span, ageD, "stool", limits.stoolH, limits.excretionUnderD),
    ...excretion(animal, span, ageD, "urine", limits.urineH, limits.excretionUnderD),
    ...feedGap(animal, span, ageD, limits),
    ...acuteLoss(animal, day, limits),
  ];
}

function temperature(animal: PreparedAnimal, day: CivilDate, limits: RuleLimits) {
  if (limits.temperatureMarginC === null) return [];
  const range = animal.profile.bodyTemperature;
  const taken = (animal.observationsOn.get(day) ?? []).filter(
    (o) => o.kind === "temperature" && o.value !== null,
  );
  if (range === null || taken.length === 0) {
    return [
      {
        kind: "temperature" as const,
        why: notice(range === null ? "flag-no-range" : "flag-no-temperature", "info", {
          animal: animal.id,
        }),
      },
    ];
  }
  const low = range.range[0] - limits.temperatureMarginC;
  const high = range.range[1] + limits.temperatureMarginC;
  const celsius = (o: (typeof taken)[number]) =>
    /f/i.test(o.unit ?? "") ? ((o.value! - 32) * 5) / 9 : o.value!;
  const away = (c: number) => Math.max(low - c, c - high);
  const worst = taken.reduce((w, o) => (away(celsius(o)) > away(celsius(w)) ? o : w));
  const value = celsius(worst);
  const beyond = away(value);
  return [
    ruleSignal(
      "danger",
      "temperature",
      value < low ? "low" : "high",
      beyond > 0,
      Math.max(0, 1 + beyond),
      measured(value, "degC", { n: taken.length }),
      value < low ? low : high,
      { temperature_c: value, low_c: low, high_c: high, at: worst.at },
      notice("flag-temperature", "info", {
        animal: animal.id,
        value,
        low,
        high,
        at: worst.at,
        source: range.source,
      }),
    ),
  ];
}

function excretion(
  animal: PreparedAnimal,
  span: FeedingDaySpan,
  ageD: number | null,
  kind: "stool" | "urine",
  limitH: number | null,
  underD: number,
) {
  if (limitH === null) return [];
  const what = kind === "stool" ? ("no stool" as const) : ("no urine" as const);
  if (ageD !== null && ageD >= underD) {
    const why = notice("flag-old-enough", "info", {
      animal: animal.id,
      kind,
      age: ageD,
      limit: underD,
    });
    return [{ kind: what, why }];
  }
  const of = kind === "stool" ? animal.stools : animal.urines;
  const index = lastUpTo(
    of.map((o) => o.at),
    span.to - 1,
  );
  const last = of[index];
  if (last === undefined) {
    return [
      { kind: what, why: notice("flag-never-recorded", "info", { animal: animal.id, kind }) },
    ];
  }
  const hours = (span.to - last.at) / hourMs;
  return [
    ruleSignal(
      "danger",
      what,
      "low",
      hours >= limitH,
      hours / limitH,
      measured(hours, "h"),
      limitH,
      { hours_h: hours, last_at: last.at },
      notice("flag-no-excretion", "info", {
        animal: animal.id,
        kind,
        hours,
        last: last.at,
        limit: limitH,
      }),
    ),
  ];
}

function feedGap(
  animal: PreparedAnimal,
  span: FeedingDaySpan,
  ageD: number | null,
  limits: RuleLimits,
) {
  if (limits.feedGapTimes === null) return [];
  const last = lastUpTo(animal.feedAt, span.to - 1);
  const band = bandAt(animal.profile.feedingRhythm, ageD);
  if (last < 1 || band === null) {
    const why = notice("flag-no-rhythm", "info", { animal: animal.id });
    return [{ kind: "feed gap" as const, why }];
  }
  const pause = band.betweenHours === null ? 0 : 24 - (band.betweenHours[1] - band.betweenHours[0]);
  const usual = Math.max(band.everyH.range[1], pause, ownHabitH(animal, span.from));
  const limit = usual * limits.feedGapTimes;
  let longest = 0;
  let from = animal.feedAt[last]!;
  for (let i = last; i > 0 && animal.feedAt[i]! >= span.from; i--) {
    const gap = animal.feedAt[i]! - animal.feedAt[i - 1]!;
    if (gap > longest) {
      longest = gap;
      from = animal.feedAt[i - 1]!;
    }
  }
  // Nothing fed at all on the day: the gap still runs at its end.
  if (animal.feedAt[last]! < span.from) {
    longest = span.to - animal.feedAt[last]!;
    from = animal.feedAt[last]!;
  }
  const hours = longest / hourMs;
  return [
    ruleSignal(
      "danger",
      "feed gap",
      "high",
      hours > limit,
      hours / limit,
      measured(hours, "h"),
      limit,
      { gap_h: hours, from_at: from, usual_h: usual },
      notice("flag-feed-gap", "info", { animal: animal.id, hours, from, limit, usual }),
    ),
  ];
}

/** Median over the last 7 days of the longest gap of each 24 h: what is usual for this animal, h. */
function ownHabitH(animal: PreparedAnimal, before: number): number {
  const longest: number[] = [];
  for (let back = 1; back <= 7; back++) {
    const to = before - (back - 1) * 24 * hourMs;
    let most = 0;
    for (
      let i = lastUpTo(animal.feedAt, to - 1);
      i > 0 && animal.feedAt[i]! >= to - 24 * hourMs;
      i--
    ) {
      most = Math.max(most, animal.feedAt[i]! - animal.feedAt[i - 1]!);
    }
    if (most > 0) longest.push(most / hourMs);
  }
  if (longest.length < 3) return 0;
  return longest.sort((a, b) => a - b)[longest.length >> 1]!;
}

function acuteLoss(animal: PreparedAnimal, day: CivilDate, limits: RuleLimits) {
  if (limits.acuteLossPct === null) return [];
  const index = animal.rowOn.get(day);
  const now = index === undefined ? undefined : animal.series.daily[index];
  const before = index === undefined ? undefined : animal.series.daily[index - 1];
  if (!now || !before || daysBetween(before.feedingDay, day) > 2) {
    const why = notice("flag-no-pair", "info", { animal: animal.id, day });
    return [{ kind: "acute loss" as const, why }];
  }
  const loss = 100 * (1 - now.massG / before.massG);
  const se = (100 * Math.hypot(now.errorG, before.errorG)) / before.massG;
  const limit = limits.acuteLossPct;
  // A wet coat or a full stomach the day before must not cry wolf: also 2 stated errors.
  const raised = loss >= limit && loss >= 2 * se;
  return [
    ruleSignal(
      "danger",
      "acute loss",
      "low",
      raised,
      Math.max(0, raised ? loss / limit : Math.min(loss / limit, 0.99)),
      measured(loss, "%", { se }),
      limit,
      { before_g: before.massG, now_g: now.massG, loss_g: before.massG - now.massG },
      notice("flag-acute-loss", "info", {
        animal: animal.id,
        loss,
        before: before.massG,
        now: now.massG,
        beforeDay: before.feedingDay,
        limit,
      }),
    ),
  ];
}

export function rowUpTo(animal: PreparedAnimal, day: CivilDate): DailyMass | null {
  const index = animal.rowOn.get(day);
  if (index !== undefined) return animal.series.daily[index]!;
  const { daily } = animal.series;
  for (let i = daily.length - 1; i >= 0; i--) if (daily[i]!.feedingDay <= day) return daily[i]!;
  return null;
}
