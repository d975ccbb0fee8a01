import type { DietRow, Instant, PlanRow, SetAsideRow, StudySettings } from "../../records/study.js";
import { type OrderLine, orderLine, ordersFood } from "./order-line.js";
import { type OrderStep, orderSteps } from "./order-steps.js";

/** A line of the table of plans that was set aside, word for word. */
export interface UnusedOrder {
  readonly file: string;
  readonly line: number;
  readonly words: string;
  /** Where the very same line stands already; null where it was set aside for another reason. */
  readonly repeats: { readonly file: string; readonly line: number } | null;
}

export interface TargetMass {
  readonly from: Instant;
  readonly to: Instant | null;
  readonly massG: number;
}

/** All that was ordered for one animal. */
export interface AnimalOrders {
  /** The study's clock, by which days and times of orders are told. */
  readonly zone: string;
  readonly startHour: number;
  /** Every line, oldest first; equal lines stand once. */
  readonly lines: readonly OrderLine[];
  /** Lines that stand more than once, counted once and asked about. */
  readonly repeated: readonly OrderLine[];
  readonly notUsed: readonly UnusedOrder[];
  readonly targets: readonly TargetMass[];
  readonly steps: readonly OrderStep[];
}

/**
 * Reads the orders of one animal. The order of rows in the file changes nothing.
 *
 * @param rows of the table of plans, of this animal alone.
 * @param setAside rows of the table of plans that could not be used, of this animal.
 * @example ordersOf(rows, diets, settings).steps.at(-1)?.inForce.lines.length // 2
 */
export function ordersOf(
  rows: readonly PlanRow[],
  diets: ReadonlyMap<string, DietRow>,
  settings: Pick<StudySettings, "zone" | "feedingDayStartHour" | "ordersByDiet">,
  setAside: readonly SetAsideRow[] = [],
): AnimalOrders {
  const sorted = rows
    .filter(ordersFood)
    .map((row) => orderLine(row, diets))
    .map((line) => ({ line, key: contentOf(line) }))
    .sort((a, b) => a.line.from - b.line.from || compare(a.key, b.key) || place(a.line, b.line));
  const lines: OrderLine[] = [];
  const repeated: OrderLine[] = [];
  sorted.forEach(({ line, key }, i) => {
    if (key !== sorted[i - 1]?.key) lines.push(line);
    else if (repeated.at(-1) !== lines.at(-1)) repeated.push(lines.at(-1)!);
  });
  return {
    zone: settings.zone,
    startHour: settings.feedingDayStartHour,
    lines,
    repeated,
    notUsed: setAside.map(unusedOrder),
    targets: rows
      .flatMap((r) =>
        r.targetMassG === null
          ? []
          : [{ from: r.from, to: r.to?.value ?? null, massG: r.targetMassG }],
      )
      .sort((a, b) => a.from - b.from || a.massG - b.massG),
    steps: orderSteps(lines, settings.ordersByDiet === true),
  };
}

/** The words of a row of plans that was set aside. */
export function unusedOrder(row: SetAsideRow): UnusedOrder {
  const { file, line } = row.reason.parameters;
  const twice = row.reason.code === "records-row-twice" && typeof line === "number";
  return {
    file: row.file,
    line: row.line,
    words: row.raw
      .map((cell) => cell.trim())
      .filter((cell) => cell !== "")
      .join(", "),
    repeats: twice ? { file: String(file), line } : null,
  };
}

/** The target mass set by the newest line in force at an instant; null without one. */
export function targetMassAt(orders: AnimalOrders, at: Instant): number | null {
  const held = orders.targets.filter((t) => t.from <= at && (t.to === null || at < t.to));
  return held.at(-1)?.massG ?? null;
}

/** What a line orders: by times first, then by diet; who ordered it and where it stands count not. */
function contentOf(line: OrderLine): string {
  const { from, times, dietId, perFeed, perDay, feedsOrdered, daysWords, to, means } = line;
  const { notes, unread } = line;
  return JSON.stringify([
    from,
    times[0] ?? "",
    dietId,
    means,
    perFeed,
    perDay,
    feedsOrdered,
    times,
    daysWords,
    to,
    notes,
    unread,
  ]);
}

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
const place = (a: OrderLine, b: OrderLine) => compare(a.file, b.file) || a.line - b.line;
