import type { Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import type { CivilDate, DayOrder } from "../series/animal-series.js";
import type { AnimalOrder } from "./animal-order.js";
import type { OrderDoubt } from "./order-doubts.js";
import type { RationTarget } from "./ration-amount.js";
import type { RationDiet } from "./ration-diet.js";

/** One feed of a day's ration. */
export interface RationFeed {
  readonly at: number;
  /** Local clock time "HH:MM"; null where no time is ordered: `at` then only helps the kitchen. */
  readonly time: string | null;
  readonly dietId: string;
  readonly kind: "formula" | "solid";
  /** As ordered, else whole grams. */
  readonly g: number;
  /** The same in mL where the density is known. */
  readonly ml: number | null;
}

export interface RationPart {
  readonly dietId: string;
  readonly kind: "formula" | "solid";
  readonly g: number;
  readonly feeds: number;
  readonly kcal: number | null;
}

/** A limit and what it did: `binds` when the ration would be larger without it. */
export interface RationLimit {
  readonly limit: "share of body mass per feed" | "rise from day to day" | "water";
  /** The limit itself with its unit, or null where none is known. */
  readonly value: Measured;
  readonly binds: boolean;
}

/**
 * A day's ration of one animal. `status`: grams are given; or `hold`, while something
 * makes suggestions wait, and no suggested grams stand anywhere in it; or it could
 * not be computed.
 */
export interface Ration {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly feedingDay: CivilDate;
  readonly status: "ration" | "hold" | "not computed";
  /** What is ordered for the day; it stands whatever the status. */
  readonly ordered: DayOrder;
  /** Orders of the day out of bounds. */
  readonly doubts: readonly OrderDoubt[];
  /** What a page prints of the order. */
  readonly order: AnimalOrder;
  /** The feeds are the ordered ones; otherwise they are a suggestion. */
  readonly asOrdered: boolean;
  /** Where the animal stands when it is made; while a reason makes suggestions wait, none is given. */
  readonly level: AnimalLevel;
  readonly massG: Measured;
  readonly ageD: number | null;
  readonly target: RationTarget;
  readonly feeds: readonly RationFeed[];
  readonly parts: readonly RationPart[];
  /** Sum of the feeds, whole grams; null unless `status` is "ration". */
  readonly totalG: number | null;
  readonly kcal: Measured;
  readonly shareOfMassPct: Measured;
  readonly kcalPerMetabolicKg: Measured;
  readonly waterMlPerKg: Measured;
  readonly proteinG: Measured;
  readonly fatG: Measured;
  /** The diets it is made of. */
  readonly diets: readonly RationDiet[];
  /** Mean offered and eaten over the last complete days, g/d, and the change from what was eaten, %. */
  readonly recentOfferedG: Measured;
  readonly recentEatenG: Measured;
  readonly changePct: number | null;
  readonly limits: readonly RationLimit[];
  /** Why it is this amount, warnings, and the caution that belongs on every sheet. */
  readonly notices: readonly Notice[];
}
