import type { PlanRow } from "../../src/records/study.js";
import type { AnimalOrders } from "../../src/series/animal-series.js";
import { ordersOf } from "../../src/series/orders/orders-of.js";

export interface LooseOrder {
  readonly animalId?: string;
  readonly from: number;
  readonly to?: number | null;
  readonly dietId?: string | null;
  readonly gPerFeed?: number | null;
  readonly feedsPerDay?: number | null;
  readonly feedTimes?: readonly string[];
  readonly targetMassG?: number | null;
}

/** One line of an order as it would be read from plain cells. */
export function planRow(order: LooseOrder): PlanRow {
  const { gPerFeed, feedsPerDay, feedTimes = [], to } = order;
  return {
    animalId: order.animalId ?? "P1",
    from: order.from,
    to: to == null ? null : { words: new Date(to).toISOString(), value: to },
    dietId: order.dietId ?? null,
    perFeed:
      gPerFeed == null ? null : { words: `${gPerFeed}`, value: { amount: gPerFeed, unit: "g" } },
    mlPerFeed: null,
    perDay: null,
    feedsPerDay: feedsPerDay == null ? null : { words: `${feedsPerDay}`, value: feedsPerDay },
    feedTimes: feedTimes.length === 0 ? null : { words: feedTimes.join(" "), value: feedTimes },
    days: null,
    targetMassG: order.targetMassG ?? null,
    orderedBy: null,
    notes: null,
    origin: { file: "plans.csv", line: 2 },
  };
}

/** The orders of an animal whose diets are in no table; the feeding day begins at 06:00 UTC. */
export function ordersFrom(orders: readonly LooseOrder[]): AnimalOrders {
  const settings = { zone: "UTC", feedingDayStartHour: 6 };
  return ordersOf(orders.map(planRow), new Map(), settings);
}
