import { type Notice, notice } from "../core/notice.js";
import { phaseAt, phasesOf } from "../rates/phases-of.js";
import { outsideStay } from "../reference/in-care.js";
import type { DayOrder } from "../series/orders/day-order.js";
import { feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import type { RationGround } from "./ration-ground.js";

export interface NoRation {
  readonly status: "hold" | "not computed";
  readonly notices: readonly Notice[];
}

/** Why nothing is suggested, the gravest reason first; null where nothing speaks against it. */
export function whyNone(ground: RationGround): NoRation | null {
  const { animal, ordered, mass, options } = ground;
  const not = (...notices: readonly Notice[]): NoRation => ({ status: "not computed", notices });
  if (statesOf(ordered).some((each) => each.state === "nil by mouth")) {
    return not(notice("ration-nil-by-mouth", "problem", { animal }));
  }
  if (hasLeft(ground)) {
    const outcome = ground.series.animal.outcome!;
    return not(notice("ration-not-in-care", "info", { animal, outcome }));
  }
  const waits = whatWaits(ground);
  if (waits !== null) return waits;
  if (options.refuse !== undefined) return not(options.refuse);
  if (fasts(ground)) return not(notice("ration-in-fast", "caution", { animal }));
  // Holds already ask for a recent weighing; switched off, the mass may be missing.
  if (mass.value === null) {
    return not(notice("ration-no-mass", "problem", { animal }));
  }
  return cannotBeSummed(ordered)
    ? not(notice("ration-order-as-written", "caution", { animal }))
    : null;
}

const statesOf = (ordered: DayOrder) => [
  ordered.atStart,
  ...ordered.changes.map((step) => step.inForce),
];

/** One that is fed since is here, whatever the animals table says of its leaving. */
function hasLeft({ series, span, settings, options }: RationGround): boolean {
  const { outcome, outcomeDate } = series.animal;
  const { zone, feedingDayStartHour } = settings;
  const isOver =
    outcome !== null &&
    outcome !== "in care" &&
    outcomeDate !== null &&
    feedingDaySpan(outcomeDate, zone, 0).from <= span.from;
  const today = feedingDayOf(options.at, zone, feedingDayStartHour);
  return isOver && outsideStay(series, today, settings) === null;
}

/** Reasons of the level that make every suggestion wait. */
function whatWaits({ level, animal }: RationGround): NoRation | null {
  const waits = level.reasons.filter((reason) => reason.suggestionsWait);
  if (waits.length === 0) return null;
  const isDanger = waits.some((reason) => reason.level === "danger");
  const code = isDanger ? "ration-hold" : "ration-waits";
  const why = waits.map((reason) => reason.sentence);
  return { status: "hold", notices: [notice(code, "problem", { animal }), ...why] };
}

function fasts({ past, settings, profile, intake, options: { at } }: RationGround): boolean {
  const { phases } = phasesOf(past, { settings, profile, endAt: at, intake }).value;
  return phaseAt(phases, at)?.phase === "post-weaning fast";
}

/** An order that stands but cannot be added up is followed as written, not replaced by a sum. */
function cannotBeSummed(ordered: DayOrder): boolean {
  return (
    ordered.grams === null &&
    statesOf(ordered).some((each) => each.lines.some((l) => l.perFeed ?? l.perDay))
  );
}
