import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { CivilDate, MassBand } from "../../series/animal-series.js";
import { median } from "../../stats/descriptive/median.js";
import { addDays, numberOfDate } from "../../units/calendar.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { Signal } from "../animal-day/signal.js";
import { ruleSignal } from "./rule-signal.js";

/** The median of so many weighed days, of the last so many days, is held against the band. */
const weighings = 3;
const withinD = 42;

/**
 * Mass outside the band that the veterinarian set for this animal and this time of
 * the year (`mass_bands` in study.json), for those in long-term care. Without a band
 * nothing is judged.
 */
export function massBandSignal(
  animal: PreparedAnimal,
  day: CivilDate,
): readonly (Signal | NotJudged)[] {
  const band = animal.settings.massBands?.[animal.id];
  if (band === undefined) return [];
  const { lowG, highG } = massBandOn(band, day);
  const rows = animal.series.daily
    .filter((d) => d.feedingDay <= day && d.feedingDay > addDays(day, -withinD))
    .slice(-weighings);
  const massG = median(rows.map((r) => r.massG));
  if (massG === null) {
    const last = animal.series.daily.filter((d) => d.feedingDay <= day).at(-1)?.feedingDay ?? null;
    return [
      {
        kind: "outside mass band",
        why: notice("flag-not-weighed", "info", { animal: animal.id, day, last }),
      },
    ];
  }
  const direction = massG < lowG ? "low" : "high";
  const beyond = Math.max(lowG - massG, massG - highG);
  return [
    ruleSignal({
      class: "practice",
      kind: "outside mass band",
      direction,
      raised: beyond > 0,
      strength: beyond > 0 ? 1 + Math.min(2, beyond / (0.05 * massG)) : 0,
      value: measured(massG, "g", { n: rows.length }),
      threshold: direction === "low" ? lowG : highG,
      evidence: { massG, lowG, highG, weighings: rows.length },
      sentence: notice("flag-mass-band", "info", {
        animal: animal.id,
        mass: massG,
        n: rows.length,
        low: lowG,
        high: highG,
        by: band.setBy,
        outside: beyond > 0,
      }),
    }),
  ];
}

/**
 * The band on a day: straight lines between the days of the year that were entered,
 * the last of them leading on to the first of the next year.
 *
 * @example massBandOn({ setBy: null, points: [{ on: "03-01", lowG: 1000, highG: 1200 }] }, "2031-05-14").lowG // 1000
 */
export function massBandOn(
  band: MassBand,
  day: CivilDate,
): { readonly lowG: number; readonly highG: number } {
  const year = Number(day.slice(0, 4));
  const at = numberOfDate(day);
  const points = [year - 1, year, year + 1]
    .flatMap((y) => band.points.map((p) => ({ ...p, at: numberOfDate(`${y}-${p.on}`) })))
    .sort((a, b) => a.at - b.at);
  const next = points.findIndex((p) => p.at > at);
  const [a, b] = [points[next - 1]!, points[next]!];
  const share = (at - a.at) / (b.at - a.at);
  const between = (x: number, y: number) => x + share * (y - x);
  return { lowG: between(a.lowG, b.lowG), highG: between(a.highG, b.highG) };
}
