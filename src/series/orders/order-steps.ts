import type { Instant } from "../../records/study.js";
import type { OrderLine } from "./order-line.js";

/** What is ordered at one time. Only `lines` are in force and may be added up. */
export interface OrderInForce {
  readonly state: "no order" | "ordered" | "nil by mouth" | "ended";
  /** Begin of the newest order begun; null without one. */
  readonly since: Instant | null;
  readonly lines: readonly OrderLine[];
  /** Older lines of other diets that nobody ended: asked about, in no total. */
  readonly notEnded: readonly OrderLine[];
  /** Lines in force that stand only because another diet was set to zero: asked about. */
  readonly leftStanding: readonly OrderLine[];
  /** What was in force before the newest order began. */
  readonly before: readonly OrderLine[];
  /** Lines of the newest order, and of those beside it, whose written end has passed. */
  readonly ended: readonly OrderLine[];
  /** Lines of nothing by mouth, or zeros that come to it. */
  readonly nil: readonly OrderLine[];
}

/** A stretch of time over which nothing changes in what is ordered. */
export interface OrderStep {
  readonly from: Instant;
  /** Null: until further lines are written. */
  readonly to: Instant | null;
  readonly inForce: OrderInForce;
}

export const noOrder: OrderInForce = {
  state: "no order",
  since: null,
  lines: [],
  notEnded: [],
  leftStanding: [],
  before: [],
  ended: [],
  nil: [],
};

/** What one order leaves in force from its begin on, ends not yet looked at. */
interface Standing {
  readonly since: Instant;
  readonly lines: readonly OrderLine[];
  readonly apart: readonly OrderLine[];
  readonly leftStanding: readonly OrderLine[];
  readonly before: readonly OrderLine[];
  readonly nil: readonly OrderLine[];
}

/**
 * What is in force over time. All lines with one `from` are one order and stay
 * whole; the newest begun order holds. Older lines of diets it does not name
 * stand beside it while their written end has not passed; without an end they
 * are set apart and asked about, unless orders are written diet by diet. Nothing
 * by mouth ends every line, and so does a zero of the only diet in force; a zero
 * of one of several ends that one. What has ended never revives.
 *
 * @param lines of one animal, in any order.
 * @returns steps in order of time, the first from the first order on.
 */
export function orderSteps(lines: readonly OrderLine[], byDiet: boolean): OrderStep[] {
  const begins = [...new Set(lines.map((l) => l.from))].sort((a, b) => a - b);
  const steps: OrderStep[] = [];
  let last: Standing | null = null;
  begins.forEach((since, i) => {
    const order = lines.filter((l) => l.from === since);
    const standing: Standing = afterOrder(last, order, since, byDiet);
    const next = begins[i + 1] ?? null;
    const ends = [...standing.lines, ...standing.apart, ...standing.nil].flatMap((l) =>
      l.to === null || l.to <= since || (next !== null && l.to >= next) ? [] : [l.to],
    );
    const cuts = [since, ...[...new Set(ends)].sort((a, b) => a - b)];
    cuts.forEach((from, k) => {
      steps.push({ from, to: cuts[k + 1] ?? next, inForce: at(standing, from) });
    });
    last = standing;
  });
  return steps;
}

function afterOrder(
  last: Standing | null,
  order: readonly OrderLine[],
  since: Instant,
  byDiet: boolean,
): Standing {
  const until = last === null ? [] : last.lines.filter((l) => l.to === null || l.to >= since);
  const before = until.length > 0 || last === null ? until : lastInForce(last);
  const base = { since, before, leftStanding: [], nil: [], apart: [], lines: [] };
  const nil = order.filter((l) => l.means === "nil by mouth");
  if (nil.length > 0) return { ...base, nil };

  const open = (l: OrderLine) => l.to === null;
  const names = new Set(order.map((l) => l.dietId));
  const others = (last?.lines ?? []).filter(
    (l) => (open(l) || l.to! > since) && !names.has(l.dietId),
  );
  const apartBefore = (last?.apart ?? []).filter(
    (l) => (open(l) || l.to! > since) && !names.has(l.dietId),
  );
  const feeds = order.filter((l) => l.means === "feed");
  if (feeds.length === 0) {
    // Zero without a diet is zero of everything.
    if (others.length === 0 || names.has(null)) return { ...base, nil: order };
    return { ...base, lines: others, leftStanding: others, apart: apartBefore };
  }
  // A line without a diet may mean any: what stood before is asked about, never added.
  const unnamed = (l: OrderLine) => l.dietId === null || names.has(null);
  const beside = others.filter((l) => !unnamed(l) && (!open(l) || byDiet));
  return {
    ...base,
    lines: [...feeds, ...beside],
    apart: [...others.filter((l) => !beside.includes(l)), ...apartBefore],
  };
}

/** What was in force last before all of it ended. */
function lastInForce(standing: Standing): readonly OrderLine[] {
  const latest = Math.max(...standing.lines.map((l) => l.to ?? Number.POSITIVE_INFINITY));
  return standing.lines.filter((l) => (l.to ?? Number.POSITIVE_INFINITY) === latest);
}

function at(standing: Standing, now: Instant): OrderInForce {
  const holds = (l: OrderLine) => l.to === null || l.to > now;
  const lines = standing.lines.filter(holds);
  const nil = standing.nil.filter(holds);
  return {
    state: nil.length > 0 ? "nil by mouth" : lines.length > 0 ? "ordered" : "ended",
    since: standing.since,
    lines,
    notEnded: standing.apart.filter(holds),
    leftStanding: standing.leftStanding.filter(holds),
    before: standing.before,
    ended: [...standing.lines, ...standing.nil].filter((l) => !holds(l)),
    nil,
  };
}

/**
 * What is ordered at an instant.
 *
 * @example orderAt(series.orders, at).lines[0]?.perFeed // "46 g"
 */
export function orderAt(
  { steps }: { readonly steps: readonly OrderStep[] },
  at: Instant,
): OrderInForce {
  let low = 0;
  let high = steps.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (steps[middle]!.from <= at) low = middle + 1;
    else high = middle;
  }
  return low === 0 ? noOrder : steps[low - 1]!.inForce;
}
