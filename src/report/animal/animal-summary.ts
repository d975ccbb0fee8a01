import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Wording } from "../../core/wording.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import type { MeanIntake } from "../../rates/mean-intake.js";
import { screenWording } from "../../units/format.js";
import { formatDate } from "../../units/format-date.js";
import { formatAmount, formatMass, formatMeasured } from "../../units/format-measured.js";
import { count, formatNumber } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { byName } from "../section/by-name.js";
import { capital } from "../section/capital.js";
import { say } from "../section/say.js";
import { list, type Section, section } from "../section/section.js";

/**
 * One animal in a few lines: who, how old, how heavy, how it gains and eats, what stands out.
 *
 * @param level where it stands on the page's day; null for one that is not in care.
 */
export function animalSummary(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  level: AnimalLevel | null = null,
): Section {
  const { series, last, gain, recentIntake, day } = animal;
  const wording = screenWording(analysis.settings.zone);
  const lines = [
    `${capital(series.animal.species)}, ${series.animal.sex}, season ${animal.season ?? "not written"}, phase ${animal.phase ?? "not known"}.`,
    last === null
      ? "No usable weighing."
      : `${formatMass(last.massG)} on ${formatDate(last.feedingDay)}${last.ageD === null ? "" : `, age ${formatNumber(last.ageD, 3)} days${rangeText(series.age.rangeDays)}`}.`,
    gain.recent.gain.value === null
      ? `Gain over the last days: not computed. ${gain.recent.gain.why ? noticeText(gain.recent.gain.why, wording) : ""}`
      : `Gain over the last ${count(analysis.gainDays, "day")}: ${formatMeasured(gain.recent.gain)}; relative ${formatMeasured(gain.recent.relative)}.`,
    intakeLine(recentIntake, wording),
    day === null
      ? "Not in care on the day looked at: not judged."
      : standing(level) || noticeText(byName(day.sentence, animal), wording),
    ...animal.notices.map((n) => noticeText(n, wording)),
  ];
  return section(`${animalLabel(animal)} on ${formatDate(analysis.onDay)}`, [list(lines)]);
}

/** The level that the page's headline names, never one below it; nothing where none is raised. */
function standing(level: AnimalLevel | null): string {
  if (level === null || level.level === "nothing raised") return "";
  const of = level.reasons.filter((r) => r.level === level.level).map((r) => r.what);
  return say("summary-level", { level: level.level, reasons: [...new Set(of)] });
}

function intakeLine(intake: MeanIntake, wording: Wording): string {
  const { eatenG, kcal, shareOfMassPct, days } = intake;
  if (eatenG.value !== null) {
    const share =
      shareOfMassPct.value === null
        ? ""
        : `, ${formatAmount(shareOfMassPct.value, "%")} of body mass a day`;
    return `Eaten, mean of ${count(days, "complete feeding day")}: ${formatMeasured(eatenG)}, ${formatMeasured(kcal)}${share}.`;
  }
  const why = eatenG.why ? noticeText(eatenG.why, wording) : "not known.";
  const { interval } = eatenG;
  if (interval === undefined || interval.lower === null) return `Eaten: ${why}`;
  const upper =
    interval.upper === null ? "no known limit" : formatAmount(interval.upper, "", 3, "g/d");
  return `Eaten, mean of ${count(days, "complete feeding day")}: between ${formatAmount(interval.lower, "", 3, "g/d")} and ${upper} ${eatenG.unit}. ${why}`;
}

function rangeText(days: number | null): string {
  return days === null || days <= 1 ? "" : ` (birth known to within ${formatNumber(days, 2)} days)`;
}
