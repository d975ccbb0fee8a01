import type { DayAnswer } from "../analysis/ask-day.js";
import { noticeText } from "../core/catalogue.js";
import type { AnimalShift } from "../planning/plan-shift.js";
import { screenWording } from "../units/format.js";

/**
 * Where every animal in care stands, for other programs: level, act, reasons and orders as
 * on the day's pages, those of most concern first. Instants are ISO 8601 in UTC.
 *
 * @example dayInJson(answer).animals[0].level // "danger"
 */
export function dayInJson({ analysis: { value }, levels, shift }: DayAnswer) {
  const wording = screenWording(value.settings.zone);
  const instant = (at: number | null) => (at === null ? null : new Date(at).toISOString());
  const orderOf = (plan: AnimalShift | undefined) => ({
    state: plan?.order.state ?? ("no order" as const),
    lines: (plan?.order.lines ?? []).map((line) => ({ text: line.words, ask: line.doubted })),
    said: (plan?.order.said ?? []).map((n) => noticeText(n, wording)),
    due: (plan?.due ?? []).map((f) => ({
      at: instant(f.at),
      diet: f.dietId,
      amount: f.amount,
    })),
  });
  const inCare = new Set(value.animals.filter((a) => a.inCare).map((a) => a.animalId));
  return {
    onDay: value.onDay,
    recordsEnd: instant(value.records.end),
    rowsNotUsed: value.records.setAside.length,
    animals: levels
      .filter((l) => inCare.has(l.animalId))
      .map((l) => ({
        animalId: l.animalId,
        name: l.name,
        level: l.level,
        act: l.act,
        reasons: l.reasons.map((r) => ({
          level: r.level,
          what: r.what,
          code: r.sentence.code,
          text: noticeText(r.sentence, wording),
          by: instant(r.byAt),
          answered: r.answered !== null,
        })),
        order: orderOf(shift?.animals.find((a) => a.animalId === l.animalId)),
      })),
  };
}
