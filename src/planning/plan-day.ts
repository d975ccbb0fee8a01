import type { Result } from "../core/result.js";
import { animalLevels } from "../flags/levels/animal-levels.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import { inCareOn } from "../reference/in-care.js";
import type { CivilDate, StudySeries } from "../series/animal-series.js";
import { addDays, feedingDayOf } from "../units/calendar.js";
import { hourMs } from "../units/hour-ms.js";
import { type BatchNeed, batchSize } from "./batch-size.js";
import { type DaySheet, daySheet } from "./day-sheet.js";
import { planRation } from "./plan-ration.js";
import type { Ration } from "./ration.js";
import type { RationOptions } from "./ration-options.js";

export interface PlanDayOptions extends Omit<RationOptions, "settings" | "intake" | "level"> {
  /** Where the animals stand at `at`. Default: worked out here, without the day's flags. */
  readonly levels?: readonly AnimalLevel[];
  /** Options of single animals, by animal id; they override the common ones. */
  readonly animals?: Readonly<Record<string, Partial<Omit<RationOptions, "settings" | "at">>>>;
  /** Hours a batch of formula lasts. Default 12. */
  readonly batchH?: number;
}

export interface PlannedDay {
  readonly madeAt: number;
  readonly feedingDay: CivilDate;
  readonly rations: readonly Ration[];
  readonly sheet: DaySheet;
  /** Formula for the first and for the second part of the day. */
  readonly batches: readonly { readonly from: number; readonly needs: readonly BatchNeed[] }[];
}

/**
 * Tomorrow for every animal in care: rations, the day sheet, and the batches of
 * formula. The sheet holds what is ordered, as ordered, at every level.
 *
 * @param options `at`: the instant at which the sheet is made.
 * @example planDay(series, { at }).value.sheet.animals.length // 6
 */
export function planDay(
  study: StudySeries,
  options: PlanDayOptions,
): Result<"plan-day", PlannedDay> {
  const { settings } = study;
  const { animals: single, batchH = 12, levels: known, ...common } = options;
  const today = feedingDayOf(options.at, settings.zone, settings.feedingDayStartHour);
  const feedingDay = options.feedingDay ?? addDays(today, 1);
  const here = study.animals.filter((s) => inCareOn(s, today, settings));
  const only = here.map((s) => s.animal.animalId);
  const levels = known ?? animalLevels(study, { at: options.at, only });
  const rations = here.map((series) => {
    const level = levels.find((l) => l.animalId === series.animal.animalId);
    return planRation(series, {
      ...(level === undefined ? {} : { level }),
      ...(study.ordersOfNobody === undefined ? {} : { ordersOfNobody: study.ordersOfNobody }),
      ...common,
      ...single?.[series.animal.animalId],
      settings,
      feedingDay,
    }).value;
  });
  const sheet = daySheet(rations, feedingDay);
  const firstFeed = Math.min(...rations.flatMap((r) => r.feeds.map((f) => f.at)));
  const starts = Number.isFinite(firstFeed) ? partsOfDay(firstFeed, batchH) : [];
  return {
    kind: "plan-day",
    schema: 1,
    value: {
      madeAt: options.at,
      feedingDay,
      rations,
      sheet: sheet.value,
      batches: starts.map((from) => ({
        from,
        needs: batchSize(rations, { from, hours: batchH }).value,
      })),
    },
    method: {
      name: "Rations of all animals in care",
      options: { at: options.at, feedingDay, batchH },
      citations: [],
    },
    basis: { used: here.length, leftOut: [], of: "animals in care" },
    diagnostics: {},
    notices: sheet.notices,
  };
}

function partsOfDay(first: number, hours: number): number[] {
  const out: number[] = [];
  for (let h = 0; h < 24; h += hours) out.push(first + h * hourMs);
  return out;
}
