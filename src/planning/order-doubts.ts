import { type Notice, notice } from "../core/notice.js";
import { energyOf } from "../rates/energy-of.js";
import type {
  AnimalSeries,
  DayOrder,
  OrderBounds,
  OrderInForce,
  OrderLine,
  StudySettings,
} from "../series/animal-series.js";
import { orderBoundsOf } from "../series/orders/order-bounds.js";
import { dueLines } from "../series/orders/ordered-on.js";
import { dayMs } from "../units/day-ms.js";
import { inWrittenDigits } from "../units/in-written-digits.js";
import { kJPerKcal } from "../units/quantity.js";
import { dayOf, outgrownOrder } from "./outgrown-order.js";
import { usualFeedG } from "./usual-feeds.js";

/** An order out of bounds: printed as ordered, and asked about before it is followed. */
export interface OrderDoubt {
  readonly level: "danger" | "ask" | "not checked";
  /** The lines doubted; empty where the doubt is about the day as a whole. */
  readonly lines: readonly OrderLine[];
  readonly why: Notice;
}

interface Judged {
  readonly series: AnimalSeries;
  readonly day: DayOrder;
  readonly at: number;
  readonly bounds: OrderBounds;
}

/**
 * Holds what is ordered for a day against the animal's last sure mass, its usual
 * feeds, the order before, and the composition of the diets; dangers first. What
 * lacks something to be held against is said to be not checked.
 *
 * @param series the history up to `at`, nothing later.
 * @example orderDoubts(series, day, { at, settings })[0]?.level // "danger"
 */
export function orderDoubts(
  series: AnimalSeries,
  day: DayOrder,
  options: {
    readonly at: number;
    readonly settings: Pick<
      StudySettings,
      "orderBounds" | "watchLimits" | "zone" | "feedingDayStartHour" | "speciesOverrides"
    >;
  },
): readonly OrderDoubt[] {
  const bounds = orderBoundsOf(options.settings);
  const judged: Judged = { series, day, at: options.at, bounds };
  const doubts = [
    ...feedsOverMass(judged),
    ...amountsDisagree(judged),
    ...feedsUnderUsual(judged),
    ...changes(judged),
    ...dietEnergies(judged),
    ...outgrown(judged, options.settings),
  ];
  const order = ["danger", "ask", "not checked"];
  return doubts.sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
}

/** Days for which a weighing still says how large a feed may be. */
const sureMassD = 7;

/** Lines that order feeds on the day, each once. */
function linesOf(day: DayOrder): OrderLine[] {
  const all = [...day.feeds.map((f) => f.line), ...day.uncounted.map((u) => u.line)];
  return [...new Set(all)];
}

/** One feed in g, the larger where grams and millilitres disagree; without a density a millilitre is a gram. */
function sizeOf(line: OrderLine): number | null {
  const sizes = [line.gPerFeed, byVolume(line)].filter((g) => g !== null);
  return sizes.length === 0 ? null : Math.max(...sizes);
}

const byVolume = ({ mlPerFeed, diet }: OrderLine) =>
  mlPerFeed === null ? null : mlPerFeed * (diet?.densityGPerMl ?? 1);

/** Grams and millilitres of one feed are alike but for the density, which may not be known. */
const alikePct = 15;

/** Grams and millilitres of one feed that do not fit each other. */
function amountsDisagree({ day }: Judged): OrderDoubt[] {
  return linesOf(day).flatMap((line): OrderDoubt[] => {
    const [g, ml] = [line.gPerFeed, byVolume(line)];
    if (g === null || ml === null || 100 * Math.abs(Math.log(ml / g)) <= alikePct) return [];
    const why = notice("order-amounts-disagree", "problem", { feed: line.perFeed! });
    return [{ level: "ask", lines: [line], why }];
  });
}

function feedsOverMass({ series, day, at, bounds }: Judged): OrderDoubt[] {
  const bound = bounds.feedPctOfMass;
  const lines = linesOf(day);
  if (bound === null || lines.length === 0) return [];
  const last = series.daily.at(-1);
  if (last === undefined || at - last.at > sureMassD * dayMs)
    return [unchecked("feeds against mass", "no sure mass")];
  const found: OrderDoubt[] = [];
  const check = (own: readonly OrderLine[]) => {
    const size = own.reduce((sum, line) => sum + (sizeOf(line) ?? 0), 0);
    const pct = (100 * size) / last.massG;
    if (pct <= bound) return;
    const feed = own.map((line) => line.perFeed).join(" + ");
    const why = notice("order-feed-over-mass", "problem", { feed, pct, mass: last.massG, bound });
    found.push({ level: "danger", lines: own, why });
  };
  for (const line of lines) check([line]);
  // Diets ordered for one time are one meal.
  for (const time of new Set(day.feeds.flatMap((f) => (f.at === null ? [] : [f.at])))) {
    const own = [...new Set(day.feeds.filter((f) => f.at === time).map((f) => f.line))];
    const already = own.some((line) => found.some((doubt) => doubt.lines.includes(line)));
    if (!already) check(own);
  }
  return found;
}

function feedsUnderUsual({ series, day, at, bounds }: Judged): OrderDoubt[] {
  const bound = bounds.feedPctOfUsual;
  if (bound === null) return [];
  const lines = linesOf(day);
  return lines.flatMap((line): OrderDoubt[] => {
    const usual = usualFeedG(series, line, at);
    // Two formulas ordered for the same feeds are one bottle.
    const together = lines.filter((other) => sameFeeds(line, other)).map((l) => sizeOf(l));
    if (usual === null || together.some((size) => size === null)) return [];
    const pct = (100 * together.reduce<number>((sum, size) => sum + size!, 0)) / usual;
    if (pct >= bound) return [];
    const parameters = { feed: line.perFeed!, pct, usual, bound };
    const why = notice("order-feed-under-usual", "caution", parameters);
    return [{ level: "ask", lines: [line], why }];
  });
}

const sameFeeds = (a: OrderLine, b: OrderLine) =>
  a.from === b.from &&
  a.diet?.kind === b.diet?.kind &&
  a.feedsOrdered === b.feedsOrdered &&
  a.times.join() === b.times.join();

/** An order begun in the last day, or beginning in the day printed, against the one before. */
function changes({ series, day, at, bounds }: Judged): OrderDoubt[] {
  const begun = series.orders.steps.filter(
    ({ from, inForce }) => inForce.since === from && from > at - dayMs && from < day.to,
  );
  return begun.flatMap(({ from, inForce }) => {
    const now = dueLines(series.orders, from);
    const { before } = inForce;
    if (now.length === 0) return [];
    return [
      ...dayChange(series, inForce, now, before, bounds),
      ...newcomerRise(series, from, now, before, bounds),
    ];
  });
}

function dayChange(
  series: AnimalSeries,
  order: OrderInForce,
  now: readonly OrderLine[],
  before: readonly OrderLine[],
  bounds: OrderBounds,
): OrderDoubt[] {
  const bound = bounds.dayChangePct;
  if (bound === null || before.length === 0) return [];
  const diets = new Set([...now, ...before].map((line) => line.dietId));
  const unit = diets.size === 1 ? "g" : "kcal";
  const change = changeOf(dayOf(series, before, unit), dayOf(series, now, unit));
  if (change === null)
    return [unchecked("the day against the order before", "an amount or an energy is not known")];
  const pct = Math.abs(change.pct);
  if (pct <= bound) return [];
  const parameters = { ...change, unit, pct, more: change.pct > 0, bound };
  const why = notice("order-day-change", "caution", parameters);
  return [{ level: "ask", lines: order.lines, why }];
}

/** By how many per cent a day is more than the one before; null where one of them is not known. */
function changeOf(before: number | null, now: number | null) {
  if (now === null || before === null || before === 0) return null;
  return { now, before, pct: inWrittenDigits(100 * (now / before - 1)) };
}

const newcomerD = 7;
const thinWords = /\b(?:thin|emaciated|underweight|skinny|starv\w*|cachectic|dehydrated|bony)\b/i;
const condition = new Set(["exam", "condition score", "note"]);

function newcomerRise(
  series: AnimalSeries,
  from: number,
  now: readonly OrderLine[],
  before: readonly OrderLine[],
  bounds: OrderBounds,
): OrderDoubt[] {
  const bound = bounds.newcomerKcalPct;
  const admitted = series.animal.admittedAt;
  if (bound === null || admitted === null || from - admitted > newcomerD * dayMs) return [];
  const seen = series.signs.filter((s) => condition.has(s.kind) && s.at >= admitted - dayMs);
  const thin = seen.some((s) => thinWords.test(s.written));
  const known = seen.some((s) => s.kind === "condition score" && s.state === "present");
  if (!thin && known) return [];
  const change = changeOf(dayOf(series, before, "kcal"), dayOf(series, now, "kcal"));
  if (change === null || change.pct <= bound) return [];
  const parameters = { ...change, bound, thin };
  return [{ level: "ask", lines: now, why: notice("order-newcomer-rise", "caution", parameters) }];
}

function dietEnergies({ day, bounds }: Judged): OrderDoubt[] {
  const bound = bounds.dietEnergyPct;
  if (bound === null) return [];
  const lines = linesOf(day);
  const diets = new Map(lines.flatMap((l) => (l.diet === null ? [] : [[l.diet.dietId, l.diet]])));
  return [...diets.values()].flatMap((diet): OrderDoubt[] => {
    const stated = diet.composition.energyKcalPerG;
    const computed = energyOf(diet.composition, "general").kcalPerG.value;
    if (stated === null || computed === null) return [];
    const pct = inWrittenDigits(100 * Math.abs(stated / computed - 1));
    if (pct <= bound) return [];
    const near = (x: number) => Math.abs(stated / computed / x - 1) < 0.15;
    const slip = near(kJPerKcal) ? "kJ" : near(0.01) || near(0.1) ? "hundredth" : null;
    const why = notice("order-diet-energy", "caution", {
      diet: diet.dietId,
      stated,
      computed,
      pct,
      slip,
    });
    return [{ level: "ask", lines: lines.filter((l) => l.dietId === diet.dietId), why }];
  });
}

/** Growth that an order left as it was has not followed; no line is doubted for it. */
function outgrown(
  { series, day, at, bounds }: Judged,
  settings: Parameters<typeof outgrownOrder>[1]["settings"],
): OrderDoubt[] {
  const bound = bounds.massGrowthPct;
  if (bound === null) return [];
  const why = outgrownOrder(series, { at, until: day.to, bound, settings });
  return why === null ? [] : [{ level: "ask", lines: [], why }];
}

function unchecked(what: string, why: string): OrderDoubt {
  const told = notice("order-not-checked", "info", { what, why });
  return { level: "not checked", lines: [], why: told };
}
