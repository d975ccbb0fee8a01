import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import { dateOfNumber } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { formatDate } from "../units/format-date.js";
import { formatAmount, formatMass } from "../units/format-measured.js";
import { formatFixed } from "../units/format-number.js";
import type { AnimalCourseData } from "./animal-course.js";
import type { Reading } from "./chart.js";
import { localNumber } from "./local-time.js";
import { measuredText } from "./measured-text.js";

/** Day by day what every panel shows at that day, for all panels at once. */
export function courseReadings(data: AnimalCourseData): Reading[] {
  const time = (at: number) => localNumber(at, data.zone);
  const dayOf = (at: number) => Math.floor(time(at) / dayMs);
  const days = new Map<number, { x: number; parts: string[] }>();
  const add = (at: number, words: string) => {
    const known = days.get(dayOf(at)) ?? { x: time(at), parts: [] };
    if (!known.parts.includes(words)) known.parts.push(words);
    days.set(dayOf(at), known);
  };
  const expected = new Map(data.expected?.points.map((p) => [dayOf(p.at), p]));
  for (const m of data.masses) {
    const due = expected.get(dayOf(m.at));
    const of =
      due?.value == null ? "" : `, expected ${measuredText(due.value, due.lower, due.upper, "g")}`;
    add(m.at, `${formatMass(m.massG)}${of}`);
  }
  for (const g of data.gains) {
    if (g.value !== null) add(g.at, `gain ${measuredText(g.value, g.lower, g.upper, "g/d")}`);
  }
  const ordered = new Map(data.planned.map((p) => [dayOf(p.at), p.value]));
  for (const d of data.intake) {
    const plan = ordered.get(dayOf(d.at));
    const of = plan === undefined ? "" : ` of ${formatAmount(plan, "g")} ordered`;
    if (d.value !== null) add(d.at, `eaten ${formatAmount(d.value, "g")}${of}`);
    else if (d.lower !== null && d.upper !== null)
      add(d.at, `eaten between ${formatFixed(d.lower, 0)} and ${formatFixed(d.upper, 0)} g${of}`);
  }
  for (const t of data.temperatures) add(t.at, `${formatFixed(t.value, 1)} °C`);
  for (const m of data.marks)
    add(
      m.at,
      m.words === null ? m.kind : `${m.kind} “${shortened(m.words, sizeLimits.markLetters)}”`,
    );
  return [...days.entries()]
    .sort(([a], [b]) => a - b)
    .map(([day, { x, parts }]) => ({
      x,
      words: `${formatDate(dateOfNumber(day))}: ${parts.join("; ")}`,
    }));
}
