import { saysNilByMouth } from "../../records/order-words.js";
import type {
  Composition,
  DietRow,
  Instant,
  OrderedAmount,
  OrderedDays,
  PlanRow,
  Written,
} from "../../records/study.js";
import { convert, dimensionOf, type UnitName } from "../../units/quantity.js";

/** What the table of diets says of an ordered diet. */
export interface OrderedDiet {
  readonly dietId: string;
  readonly kind: "formula" | "solid" | "supplement";
  readonly composition: Composition;
  readonly densityGPerMl: number | null;
}

/** One line of an order: what was written, and what it comes to where that can be said. */
export interface OrderLine {
  readonly from: Instant;
  /** First instant at which it no longer holds; null: until replaced. */
  readonly to: Instant | null;
  readonly means: "feed" | "zero" | "nil by mouth";
  /** The cell that orders nothing by mouth or no feed, as written; null on a line that feeds. */
  readonly nilWords: string | null;
  readonly dietId: string | null;
  /** Null where the table of diets does not have it. */
  readonly diet: OrderedDiet | null;
  /** One feed as ordered, "46 g" or "45 mL"; null where no amount of a feed is ordered. */
  readonly perFeed: string | null;
  /** A whole day as ordered; null where none is. */
  readonly perDay: string | null;
  /** One feed in g: as ordered, or by density or stated energy; null where it cannot be said. */
  readonly gPerFeed: number | null;
  /** One feed in mL where it is ordered by volume. */
  readonly mlPerFeed: number | null;
  /** Feeds of a day: as many as times are ordered, else the number ordered. */
  readonly feeds: number | null;
  /** The number ordered, which may differ from the number of times. */
  readonly feedsOrdered: number | null;
  /** Local clock times "HH:MM"; empty: no times are ordered. */
  readonly times: readonly string[];
  /** Days on which it is due; null: every day, or not read. */
  readonly days: OrderedDays | null;
  /** Days as written. */
  readonly daysWords: string | null;
  /** Grams of a day on which it is due; null where that cannot be said. */
  readonly gPerDay: number | null;
  /** Cells that could not be read, as written, by column. */
  readonly unread: readonly { readonly column: string; readonly words: string }[];
  readonly targetMassG: number | null;
  readonly orderedBy: string | null;
  readonly notes: string | null;
  readonly file: string;
  readonly line: number;
}

type Amount = Written<OrderedAmount | "nil by mouth"> | null;

/** Reads one line of the table of plans. */
export function orderLine(row: PlanRow, diets: ReadonlyMap<string, DietRow>): OrderLine {
  const { perFeed, mlPerFeed, perDay, feedsPerDay, feedTimes, days } = row;
  const found = row.dietId === null ? undefined : diets.get(row.dietId);
  const diet: OrderedDiet | null =
    found === undefined
      ? null
      : {
          dietId: found.dietId,
          kind: found.kind,
          composition: found,
          densityGPerMl: found.densityGPerMl,
        };
  // An end before the begin is no end; it is asked about.
  const backwards = row.to?.value != null && row.to.value <= row.from;
  const times = feedTimes?.value ?? [];
  const feedsOrdered = typeof feedsPerDay?.value === "number" ? feedsPerDay.value : null;
  const feeds = times.length > 0 ? times.length : feedsOrdered;
  const gPerFeed = gramsOf(perFeed, diet) ?? gramsOf(mlPerFeed, diet);
  const wholeDay = gramsOf(perDay, diet);
  const gPerDay = gPerFeed === null ? wholeDay : feeds === null ? null : gPerFeed * feeds;
  const unread = Object.entries({
    to: backwards ? row.to : blankUnlessUnread(row.to),
    g_per_feed: blankUnlessUnread(perFeed),
    ml_per_feed: blankUnlessUnread(mlPerFeed),
    g_per_day: blankUnlessUnread(perDay),
    feeds_per_day: blankUnlessUnread(feedsPerDay),
    feed_times: blankUnlessUnread(feedTimes),
    days: blankUnlessUnread(days),
    diet_id: row.unread?.["dietId"] === undefined ? null : { words: row.unread["dietId"] },
  }).flatMap(([column, cell]) => (cell === null ? [] : [{ column, words: cell.words }]));
  const means = meaningOf(row, diet !== null);
  return {
    from: row.from,
    to: backwards ? null : (row.to?.value ?? null),
    means,
    nilWords: means === "feed" ? null : nilCell(row, diet !== null),
    dietId: row.dietId,
    diet,
    perFeed: joined([amountWords(perFeed), amountWords(mlPerFeed)]),
    perDay: amountWords(perDay),
    gPerFeed,
    mlPerFeed: volumeOf(mlPerFeed) ?? volumeOf(perFeed),
    feeds,
    feedsOrdered,
    times,
    days: days?.value ?? null,
    daysWords: days?.words ?? null,
    // An unread amount or number of feeds beside a read one: what it comes to is not sure.
    gPerDay: unread.some(({ column }) => !besideTheAmount.has(column)) ? null : gPerDay,
    unread,
    targetMassG: row.targetMassG,
    orderedBy: row.orderedBy,
    notes: row.notes,
    file: row.origin.file,
    line: row.origin.line,
  };
}

/** Columns whose unread cell leaves the amount of a day sure. */
const besideTheAmount = new Set(["to", "days", "diet_id"]);

/** Whether a cell that says how much or how often could not be read. */
export function amountUnread(line: Pick<OrderLine, "unread">): boolean {
  return line.unread.some(({ column }) => !besideTheAmount.has(column));
}

/** A row that only sets a target mass orders no food. */
export function ordersFood(row: PlanRow): boolean {
  const { dietId, perFeed, mlPerFeed, perDay, feedsPerDay, feedTimes, notes } = row;
  return [dietId, perFeed, mlPerFeed, perDay, feedsPerDay, feedTimes, notes].some(
    (cell) => cell !== null,
  );
}

/** A diet that is in its table is food, whatever it is called. */
function meaningOf(row: PlanRow, isDiet: boolean): OrderLine["means"] {
  const { perFeed, mlPerFeed, perDay, feedsPerDay } = row;
  const cells = [perFeed, mlPerFeed, perDay, feedsPerDay].map((cell) => cell?.value ?? null);
  if (row.dietId !== null && !isDiet && saysNilByMouth(row.dietId)) return "nil by mouth";
  if (cells.includes("nil by mouth")) return "nil by mouth";
  const amounts = [perFeed, mlPerFeed, perDay].filter((cell) => cell !== null);
  const none = (cell: NonNullable<Amount>) =>
    cell.value !== null && cell.value !== "nil by mouth" && cell.value.amount === 0;
  const zero = amounts.length > 0 && amounts.every(none);
  return zero || feedsPerDay?.value === 0 ? "zero" : "feed";
}

/** The cell for which a line is none of food. */
function nilCell(row: PlanRow, isDiet: boolean): string | null {
  const { dietId, perFeed, mlPerFeed, perDay, feedsPerDay } = row;
  if (dietId !== null && !isDiet && saysNilByMouth(dietId)) return dietId;
  const cells = [perFeed, mlPerFeed, perDay, feedsPerDay].filter((cell) => cell !== null);
  const nil = cells.find((cell) => cell.value === "nil by mouth");
  return (nil ?? cells[0])?.words ?? null;
}

/** An amount as ordered, with the unit of its column where the cell has none. */
function amountWords(cell: Amount): string | null {
  if (cell === null) return null;
  const { words, value } = cell;
  if (value === null || value === "nil by mouth") return words;
  return /\p{L}/u.test(words) ? words : `${words} ${value.unit}`;
}

/** Grams of an amount: mass as it is, volume by density, energy by the stated energy of the diet. */
function gramsOf(cell: Amount, diet: OrderedDiet | null): number | null {
  const value = cell?.value ?? null;
  if (value === null || value === "nil by mouth") return null;
  const { amount, unit } = value;
  const per = (base: UnitName, gPer: number | null | undefined) =>
    gPer == null || !(gPer > 0) ? null : convert(amount, unit, base) * gPer;
  switch (dimensionOf(unit)) {
    case "mass":
      return per("g", 1);
    case "volume":
      return amount === 0 ? 0 : per("mL", diet?.densityGPerMl);
    case "energy": {
      const stated = diet?.composition.energyKcalPerG ?? null;
      return amount === 0 ? 0 : per("kcal", stated === null ? null : 1 / stated);
    }
    default:
      return null;
  }
}

function volumeOf(cell: Amount): number | null {
  const value = cell?.value ?? null;
  if (value === null || value === "nil by mouth" || dimensionOf(value.unit) !== "volume")
    return null;
  return convert(value.amount, value.unit, "mL");
}

function blankUnlessUnread<T>(cell: Written<T> | null): Written<T> | null {
  return cell !== null && cell.value === null ? cell : null;
}

function joined(words: readonly (string | null)[]): string | null {
  const some = words.filter((w) => w !== null);
  return some.length === 0 ? null : some.join(", ");
}
