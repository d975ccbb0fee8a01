import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { Level, LevelAct, LevelReason } from "../flags/levels/level.js";
import type { CivilDate } from "../series/animal-series.js";
import { lineWords } from "../series/orders/line-words.js";
import { type AnimalOrder, isDoubted, printedAmount } from "./animal-order.js";
import type { Ration } from "./ration.js";

/** One feed as ordered; nothing in it is computed. */
export interface DaySheetRow {
  /** Null: not ordered, to be written when it is fed. */
  readonly time: string | null;
  readonly dietId: string | null;
  /** As ordered, "46 g" or "45 mL"; "460 ? ask" in doubt; blank where no amount is ordered. */
  readonly amount: string;
  /** The same in g, for sums; null where that cannot be said, or must be asked about first. */
  readonly g: number | null;
  /** Blank for the hand: refused grams and initials. */
  readonly refusedG: null;
  readonly by: null;
}

/** A line whose feeds cannot be counted, with the part of the day in which it holds. */
export interface DaySheetNote {
  readonly words: string;
  readonly from: number;
  readonly to: number;
  readonly wholeDay: boolean;
}

export interface DaySheetAnimal {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly order: AnimalOrder;
  readonly rows: readonly DaySheetRow[];
  /** Ordered, but not feed by feed: rows are left blank to write. */
  readonly uncounted: readonly DaySheetNote[];
  /** Sum of the rows in g; null where one of them cannot be added up. */
  readonly totalG: number | null;
  readonly level: Level;
  readonly act: LevelAct | null;
  /** Dangers, answered or not; the order stays as ordered. */
  readonly hold: readonly Notice[];
  /** The veterinarian's standing instructions for them, word for word, and whom to call. */
  readonly instructions: readonly string[];
  readonly call: string | null;
  /** What is to be measured before the next feed: printed above its row. */
  readonly measureFirst: readonly Notice[];
  /** What else asks for a look, or could not be read. */
  readonly watch: readonly Notice[];
  readonly massG: number | null;
  /** What is computed where nothing is ordered, or beside an order: never in the rows. */
  readonly suggestion: Ration | null;
}

/** What the kitchen has to have ready, of what is ordered over all animals. */
export interface DaySheetDiet {
  readonly dietId: string;
  readonly g: number;
  readonly feeds: number;
}

export interface DaySheet {
  readonly feedingDay: CivilDate;
  /** Stands on the sheet itself. */
  readonly cautions: readonly Notice[];
  readonly animals: readonly DaySheetAnimal[];
  readonly kitchen: readonly DaySheetDiet[];
}

/**
 * One printable sheet for a feeding day, as plain data: each animal's feeds row
 * by row exactly as ordered, with room for what was refused, at every level of
 * doubt or hold; what must be asked first; what the kitchen needs. Amounts that
 * nobody ordered stand apart as a suggestion.
 *
 * @example daySheet(rations, "2025-05-02").value.animals[0]?.rows.length // 12
 */
export function daySheet(
  rations: readonly Ration[],
  feedingDay: CivilDate,
): Result<"day-sheet", DaySheet> {
  const own = rations.filter((r) => r.feedingDay === feedingDay);
  const animals = own.map(sheetAnimal);
  const kitchen = new Map<string, { g: number; feeds: number }>();
  for (const row of animals.flatMap((a) => a.rows)) {
    if (row.g === null) continue;
    const dietId = row.dietId ?? "diet not named";
    const entry = kitchen.get(dietId) ?? { g: 0, feeds: 0 };
    kitchen.set(dietId, { g: entry.g + row.g, feeds: entry.feeds + 1 });
  }
  const cautions = [
    notice("sheet-as-ordered", "caution", {}),
    notice("ration-no-drugs", "caution", {}),
  ];
  return {
    kind: "day-sheet",
    schema: 2,
    value: {
      feedingDay,
      cautions,
      animals,
      kitchen: [...kitchen].map(([dietId, k]) => ({ dietId, ...k })),
    },
    method: { name: "Day sheet", options: { feedingDay }, citations: [] },
    basis: {
      used: own.length,
      leftOut:
        own.length === rations.length
          ? []
          : [{ reason: "rations of another day", count: rations.length - own.length }],
      of: "rations",
    },
    diagnostics: {},
    notices: cautions,
  };
}

function sheetAnimal(r: Ration): DaySheetAnimal {
  const { ordered } = r;
  const of = (is: (reason: LevelReason) => boolean) =>
    r.level.reasons.filter(is).map((reason) => reason.sentence);
  const rows = ordered.feeds.map(
    ({ line, time }): DaySheetRow => ({
      time,
      dietId: line.dietId,
      amount: printedAmount(line, r.doubts),
      g: isDoubted(line, r.doubts) ? null : line.gPerFeed,
      refusedG: null,
      by: null,
    }),
  );
  return {
    animalId: r.animalId,
    name: r.name,
    species: r.species,
    order: r.order,
    rows,
    uncounted: ordered.uncounted.map(({ line, from, to }) => ({
      words: lineWords(line),
      from,
      to,
      wholeDay: from === ordered.from && to === ordered.to,
    })),
    totalG: rows.length === 0 ? null : totalOf(rows),
    level: r.level.level,
    act: r.level.act,
    hold: of((reason) => reason.level === "danger"),
    instructions: [
      ...new Set(r.level.reasons.flatMap((reason) => reason.standingInstruction ?? [])),
    ],
    call: r.level.call,
    measureFirst: of((reason) => reason.level === "measure first"),
    watch: of((reason) => reason.level !== "danger" && reason.level !== "measure first"),
    massG: r.massG.value,
    suggestion: r.status === "ration" && !r.asOrdered ? r : null,
  };
}

function totalOf(rows: readonly DaySheetRow[]): number | null {
  let sum = 0;
  for (const { g } of rows) {
    if (g === null) return null;
    sum += g;
  }
  return sum;
}
