import type { HeldOutRate } from "../../../src/flags/budget/false-flag-budget.js";
import {
  type Befallen,
  befallings,
  budgetsAsked,
  type EarlyCell,
  type EarlySums,
  foundBy,
  scales,
} from "./early-cells.js";

/** What the sums of a cell say, in the words of the results. */
export function earlyRow(world: string, cell: EarlyCell, sums: EarlySums) {
  const weeks = sums.judgedDays / 7;
  const rate = (openings: number) => (100 * openings) / weeks;
  const place = placeOfTwo(sums.atScale.map(rate));
  return {
    world,
    animals: cell.animals,
    before: cell.before,
    nurseries: sums.nurseries,
    weeks: Math.round(weeks),
    judgedPct: round((100 * sums.judgedDays) / sums.inCareDays, 1),
    openDaysPct: round((100 * sums.openDays) / sums.judgedDays, 2),
    rates: budgetsAsked.map((asked, i) => {
      const half = 1.96 * standardError(sums, i);
      const own = rate(sums.openings[i]!);
      return {
        asked,
        per100: round(own, 2),
        low: round(Math.max(0, own - half), 2),
        high: round(own + half, 2),
        per100InCare: round((100 * sums.openings[i]!) / (sums.inCareDays / 7), 2),
      };
    }),
    /** Factor on the thresholds of 2 asked at which 2 come. */
    scale: round(scaleAt(place), 3),
    found: Object.fromEntries(
      (Object.keys(sums.affected) as Befallen[]).map((what) => {
        const { n, found } = sums.affected[what]!;
        const share = (day: number) =>
          at(
            found.map((f) => f[foundBy.indexOf(day as (typeof foundBy)[number])]! / n),
            place,
          );
        const { waitD } = befallings[what];
        return [
          what,
          { n, by: waitD, share: round(share(waitD), 3), median: medianOf(share, waitD) },
        ];
      }),
    ),
    firstThree:
      sums.firstThree.n === 0
        ? null
        : {
            n: sums.firstThree.n,
            share: round(
              at(
                sums.firstThree.foundBy14.map((f) => f / sums.firstThree.n),
                place,
              ),
              2,
            ),
          },
  };
}

export type EarlyRow = ReturnType<typeof earlyRow>;

/** What a rate is read from. */
type Rated = Pick<EarlyRow, "rates" | "weeks" | "judgedPct">;

export const rateAt = (r: Rated, asked: number, what: "per100" | "per100InCare" = "per100") =>
  r.rates.find((x) => x.asked === asked)![what];

/** Openings in 100 weeks over rows, each with its weeks. */
export function pooled(
  rows: readonly Rated[],
  asked: number,
  what: "per100" | "per100InCare" = "per100",
): number {
  const weeks = (r: Rated) => (what === "per100" ? r.weeks : (100 * r.weeks) / r.judgedPct);
  const sum = rows.reduce((s, r) => s + rateAt(r, asked, what) * weeks(r), 0);
  return sum / rows.reduce((s, r) => s + weeks(r), 0);
}

/** What pages quote: the rates over all held-out worlds, the lowest and the highest named. */
export function heldOutRates(rows: readonly EarlyRow[]): HeldOutRate[] {
  const right = rows.filter((r) => !r.before.startsWith("20 %"));
  const worlds = [...new Set(right.map((r) => r.world))];
  return budgetsAsked.map((per100Weeks) => {
    const byWorld = worlds
      .map((world) => ({
        world,
        rate: shown(
          pooled(
            right.filter((r) => r.world === world),
            per100Weeks,
          ),
        ),
      }))
      .sort((a, b) => a.rate - b.rate);
    return {
      per100Weeks,
      worlds: worlds.length,
      rate: shown(pooled(right, per100Weeks)),
      inCare: shown(pooled(right, per100Weeks, "per100InCare")),
      lowest: byWorld[0]!,
      highest: byWorld.at(-1)!,
    };
  });
}

/** Standard error of a rate per 100 weeks, clustered by nursery (ratio of sums). */
function standardError(sums: EarlySums, i: number): number {
  const r = sums.openings[i]! / sums.judgedDays;
  const square = sums.squares[i]! - 2 * r * sums.byDays[i]! + r * r * sums.daysSquared;
  const n = sums.nurseries;
  return (700 * Math.sqrt((Math.max(0, square) * n) / Math.max(1, n - 1))) / sums.judgedDays;
}

/** First day by which half are found; null where that is later than was waited for. */
function medianOf(share: (day: number) => number, waitD: number): number | null {
  return foundBy.find((day) => day <= waitD && share(day) >= 0.5) ?? null;
}

/** Between which scales the rate falls to 2: a place in the list, broken. */
function placeOfTwo(rates: readonly number[]): number {
  const above = rates.findIndex((r) => r <= 2);
  if (above < 0) return rates.length - 1;
  if (above === 0) return 0;
  const [high, low] = [rates[above - 1]!, rates[above]!];
  return above - 1 + (high - 2) / (high - low);
}

const at = (values: readonly number[], place: number) => {
  const low = Math.min(values.length - 2, Math.floor(place));
  return values[low]! + (place - low) * (values[low + 1]! - values[low]!);
};

const scaleAt = (place: number) => Math.exp(at(scales.map(Math.log), place));

/** As pages show it: two digits. */
const shown = (x: number) => Number(x.toPrecision(2));

const round = (x: number, digits: number) => Number(x.toFixed(digits));
