import type { OrderBounds, StudySettings } from "../animal-series.js";

/**
 * Bounds beyond which an order, a suggestion or a feed that was given is doubted: common
 * practice, no source; the attending veterinarian sets them in study.json.
 */
export const defaultOrderBounds: OrderBounds = {
  feedPctOfMass: 10,
  feedPctOfUsual: 100 / 3,
  dayChangePct: 40,
  newcomerKcalPct: 25,
  dietEnergyPct: 25,
  massGrowthPct: 10,
};

/**
 * The bounds in force. The largest feed may stand under "order_bounds" and under
 * "watch_limits": it is one limit, and where two are written the tighter one holds.
 *
 * @example orderBoundsOf({ orderBounds: { feedPctOfMass: 8 } }).feedPctOfMass // 8
 */
export function orderBoundsOf(
  settings: Pick<StudySettings, "orderBounds" | "watchLimits">,
): OrderBounds {
  const bounds = { ...defaultOrderBounds, ...settings.orderBounds };
  const watched = Object.entries(settings.watchLimits ?? {}).find(
    ([name]) => name.replace(/_/g, "").toLowerCase() === "feedpctofmass",
  )?.[1];
  if (watched === undefined || typeof watched === "object") {
    const off = watched === null && settings.orderBounds?.feedPctOfMass === undefined;
    return off ? { ...bounds, feedPctOfMass: null } : bounds;
  }
  const own = settings.orderBounds?.feedPctOfMass ?? null;
  return { ...bounds, feedPctOfMass: own === null ? watched : Math.min(own, watched) };
}
