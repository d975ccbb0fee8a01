import { notice } from "../../core/notice.js";
import { orderAt } from "../../series/orders/order-steps.js";
import { dayMs } from "../../units/day-ms.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";

/**
 * Feeds of the last 24 h that were given, or may have been, while nothing by mouth
 * was ordered: the stomach was to be empty, and whoever ordered it does not know.
 */
export function fedWhileNil({ series, at }: LevelCase): LevelReason[] {
  const fed = series.feeds.filter(
    (f) =>
      f.at > at - dayMs &&
      f.at <= at &&
      f.eatenHighG > 0 &&
      orderAt(series.orders, f.at).state === "nil by mouth",
  );
  const first = fed[0];
  const last = fed.at(-1);
  if (first === undefined || last === undefined) return [];
  const since = orderAt(series.orders, first.at).since ?? first.at;
  const offered = fed.reduce((sum, f) => sum + f.offeredG, 0);
  const parameters = { feeds: fed.length, offered, first: first.at, since };
  return [
    makeReason({
      level: "danger",
      what: "fed while nothing by mouth",
      sentence: notice("level-fed-while-nil", "problem", parameters),
      at: last.at,
      act: "do not feed until spoken",
      byAt: at,
      size: { value: fed.length, unit: "feeds", outwards: "higher", step: 1 },
    }),
  ];
}
