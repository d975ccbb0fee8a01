import { notice } from "../../core/notice.js";
import { orderAt } from "../../series/orders/order-steps.js";
import { hourMs } from "../../units/hour-ms.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";
import { oldAfterH } from "./old-after.js";

/**
 * What must be measured, or asked, before anything is suggested: a weighing that is
 * missing or old, a last reading under suspicion of a slip, a newcomer without an
 * order. What is ordered is printed all the same.
 */
export function measureReasons(c: LevelCase): LevelReason[] {
  return [...weighing(c), ...massInDoubt(c), ...newcomer(c)];
}

function weighing(c: LevelCase): LevelReason[] {
  const { limits, series, at } = c;
  if (limits.weighingH === null) return [];
  const good = series.weighings.filter(
    (w) => w.netG !== null && w.netG > 0 && w.standing !== "suspected slip",
  );
  const last = good.at(-1) ?? null;
  const hours = last === null ? null : (at - last.at) / hourMs;
  const limit = oldAfterH(
    good.map((w) => w.at),
    at,
    {
      leastH: limits.weighingH,
      mostH: limits.weighingMostH,
      intervals: limits.oldAfterIntervals,
    },
  );
  if (hours !== null && hours <= limit) return [];
  const { animalId, admittedAt } = series.animal;
  return [
    makeReason({
      level: "measure first",
      what: "weigh first",
      sentence: notice("level-weigh-first", "caution", { animal: animalId, hours, limit }),
      at: last?.at ?? admittedAt ?? at,
      byAt: c.nextFeedAt,
    }),
  ];
}

function massInDoubt(c: LevelCase): LevelReason[] {
  const last = c.series.weighings.filter((w) => w.netG !== null && w.netG > 0).at(-1);
  if (last?.standing !== "suspected slip") return [];
  return [
    makeReason({
      level: "measure first",
      what: "mass in doubt",
      sentence: notice("level-mass-doubted", "caution", {
        animal: c.series.animal.animalId,
        mass: last.netG!,
        at: last.at,
      }),
      at: last.at,
      byAt: c.nextFeedAt ?? c.at,
    }),
  ];
}

/** In its first days, when nobody has ordered what it gets. */
function newcomer(c: LevelCase): LevelReason[] {
  const { series, at, limits } = c;
  const { animalId, admittedAt } = series.animal;
  const { state, lines } = orderAt(series.orders, at);
  const isOrdered =
    state === "nil by mouth" || lines.some((l) => l.perFeed !== null || l.perDay !== null);
  const since = admittedAt ?? series.span?.from ?? at;
  const hours = (at - since) / hourMs;
  if (isOrdered || hours >= limits.newcomerH || hours < 0) return [];
  return [
    makeReason({
      level: "second look",
      what: "no order",
      sentence: notice("level-newcomer", "caution", { animal: animalId, hours }),
      at: since,
      byAt: at,
      suggestionsWait: true,
    }),
  ];
}
