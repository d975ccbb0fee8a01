import type { Notice } from "../core/notice.js";
import { type PlannedAndEaten, plannedAndEaten } from "../rates/planned-and-eaten.js";
import type { StudySeries } from "../series/animal-series.js";
import { feedingDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { DaySheet } from "./day-sheet.js";
import { planDay } from "./plan-day.js";
import type { Ration, RationFeed } from "./ration.js";

/** One animal at the change of shift. */
export interface AnimalShift {
  readonly animalId: string;
  /** The 24 hours up to the change beside the plan then in force. */
  readonly compared: PlannedAndEaten | "no plan" | "not comparable";
  /** "no plan": nobody ordered an amount, so none is shown. */
  readonly status: Ration["status"] | "no plan";
  /** Feeds of the coming 24 hours; empty unless the status is "ration". */
  readonly due: readonly RationFeed[];
  /** Why there are none, or what to mind. */
  readonly notices: readonly Notice[];
}

export interface ShiftPlan {
  /** The instant of the change; nothing recorded later is read. */
  readonly until: number;
  readonly animals: readonly AnimalShift[];
  /** The sheet of the feeding day after the one under way; only what a plan orders stands on it. */
  readonly sheet: DaySheet;
  /** Animals on that sheet for which nobody ordered an amount. */
  readonly withoutPlan: readonly string[];
}

/**
 * What the next shift has to give: the feeds of the coming 24 hours by the plans
 * in force, whether the last 24 hours kept to the plan, and the sheet of the next
 * feeding day. Amounts that nobody ordered are not made up here; an animal on
 * hold shows none. To be reviewed with the attending veterinarian.
 *
 * @example planShift(series, { until }).animals[0]?.due[0] // { time: "21:00", dietId: "milk", g: 48, ... }
 */
export function planShift(study: StudySeries, options: { readonly until: number }): ShiftPlan {
  const { settings } = study;
  const { until } = options;
  const today = feedingDayOf(until, settings.zone, settings.feedingDayStartHour);
  const now = planDay(study, { at: until, feedingDay: today }).value;
  const next = planDay(study, { at: until }).value;
  const ordered = (r: Ration | undefined) => r?.target.kind === "plan";
  const animals = next.rations.map((later): AnimalShift => {
    const { animalId } = later;
    const series = study.animals.find((s) => s.animal.animalId === animalId)!;
    const both = [now.rations.find((r) => r.animalId === animalId), later];
    const held = both.find((r) => r?.status === "hold");
    const given = both.filter((r) => ordered(r) && r?.status === "ration");
    const status =
      held?.status ?? (both.some(ordered) ? (given[0]?.status ?? later.status) : "no plan");
    return {
      animalId,
      // Up to and with the last record; the stretch itself leaves its end out.
      compared: plannedAndEaten(series, until - dayMs + 1, until + 1),
      status,
      due:
        held === undefined
          ? given
              .flatMap((r) => r?.feeds ?? [])
              .filter((f) => f.at > until && f.at <= until + dayMs)
              .sort((a, b) => a.at - b.at)
          : [],
      notices: (held ?? later).notices,
    };
  });
  const withoutPlan = next.rations
    .filter((r) => r.status !== "hold" && !ordered(r))
    .map((r) => r.animalId);
  return { until, animals, sheet: onlyOrdered(next.sheet, withoutPlan), withoutPlan };
}

function onlyOrdered(sheet: DaySheet, withoutPlan: readonly string[]): DaySheet {
  const animals = sheet.animals.map((a) =>
    withoutPlan.includes(a.animalId)
      ? {
          ...a,
          status: "not computed" as const,
          rows: [],
          totalG: null,
          totalKcal: null,
          notes: [],
        }
      : a,
  );
  const kitchen = sheet.kitchen.flatMap(({ dietId }) => {
    const rows = animals.flatMap((a) => a.rows).filter((r) => r.dietId === dietId);
    const g = rows.reduce((sum, r) => sum + r.g, 0);
    return rows.length === 0 ? [] : [{ dietId, g, feeds: rows.length }];
  });
  return { ...sheet, animals, kitchen };
}
