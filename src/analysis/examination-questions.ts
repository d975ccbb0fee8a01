import { type Notice, notice } from "../core/notice.js";
import { judgedSignal } from "../flags/animal-day/judged-signals.js";
import type { MissingGrams } from "../flags/missing-grams.js";
import { middleOf } from "../rates/bounds.js";
import { mayBePresent } from "../series/signs/sign.js";
import { profileOf } from "../species/profile-of.js";
import { addDays, feedingDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { formatDate } from "../units/format-date.js";
import type { ChangeOfGain } from "./change-of-gain.js";
import type { IntakeAtTheMargin } from "./intake-at-the-margin.js";
import type { RealOrNot } from "./real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";
import type { Happening } from "./what-happened.js";

export interface QuestionsFrom {
  readonly real: RealOrNot;
  readonly change: ChangeOfGain;
  readonly missing: MissingGrams;
  /** The intake part with maintenance paid first; without it only the average price counts. */
  readonly margin?: IntakeAtTheMargin;
  readonly happened: readonly Happening[];
}

/** Days looked back for signs, and days to either side of the change for what happened. */
const signsD = 14;
const aroundD = 3;

/**
 * Questions for the examination, put together from what the records show and do
 * not show about this animal. They are questions: none says what is the matter,
 * and what is not asked is not ruled out.
 *
 * @example examinationQuestions(analysis, animal, found)[0].code // "ask-scale-failed"
 */
export function examinationQuestions(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: QuestionsFrom,
): readonly Notice[] {
  return [
    ...aboutRecords(animal, found.real),
    ...(found.real.answers.some((a) => a.question === "scale" && a.verdict === "found")
      ? [notice("ask-after-scale", "caution", { animal: animal.animalId })]
      : aboutIntake(animal, found)),
    ...aboutSigns(analysis, animal),
    ...aboutTheTime(analysis, animal, found),
    ...aboutOthers(analysis, animal),
    notice("ask-always", "info", { animal: animal.animalId }),
  ];
}

function aboutRecords(animal: AnimalAnalysis, real: RealOrNot): Notice[] {
  const id = { animal: animal.animalId };
  const out: Notice[] = [];
  for (const a of real.answers) {
    if (a.verdict === "not found") continue;
    const open = a.verdict === "cannot be told";
    if (a.question === "scale") {
      const failed = a.evidence.scales.find((s) => s.failed > 0);
      out.push(
        failed !== undefined
          ? notice("ask-scale-failed", "caution", {
              ...id,
              scale: failed.scale,
            })
          : notice("ask-scale", "info", id),
      );
    } else out.push(notice(open ? `ask-${a.question}-open` : `ask-${a.question}`, "info", id));
  }
  return out;
}

function aboutIntake(animal: AnimalAnalysis, found: QuestionsFrom): Notice[] {
  const id = { animal: animal.animalId };
  const { missing, margin } = found;
  const { fromIntake, rest } = missing;
  const above = (m: MissingGrams["rest"]) => m.value !== null && (m.interval?.lower ?? 0) > 0;
  const out: Notice[] = [];
  const p = {
    ...id,
    own: missing.own.keptKcalPerDay === null ? null : middleOf(missing.own.keptKcalPerDay),
    expected: missing.expected.keptKcalPerDay,
    grams: fromIntake.value,
    rest: rest.value,
  };
  if (above(fromIntake)) out.push(notice("ask-intake", "info", p));
  if (above(rest)) {
    // Priced with maintenance paid first, intake may cover all of it.
    const open = margin !== undefined && margin.rest.value !== null && !above(margin.rest);
    const short = above(fromIntake);
    out.push(notice(short ? (open ? "ask-rest-maybe" : "ask-rest-too") : "ask-rest", "info", p));
  }
  const refused = judgedSignal(animal.day, "refusals");
  if (refused?.raised === true) {
    out.push(notice("ask-refusals", "info", { ...id, share: refused.value.value }));
  }
  return out;
}

function aboutSigns(analysis: StudyAnalysis, animal: AnimalAnalysis): Notice[] {
  const id = { animal: animal.animalId, days: signsD };
  const end = animal.series.span?.to ?? 0;
  const recent = animal.series.signs.filter((s) => s.at > end - signsD * dayMs);
  const out: Notice[] = [];
  const gut = recent.filter(
    (s) => ["vomit", "regurgitation", "bloat"].includes(s.kind) && mayBePresent(s),
  );
  if (gut.length > 0) {
    out.push(
      notice("ask-gut", "info", {
        ...id,
        n: gut.length,
        kinds: [...new Set(gut.map((o) => o.kind))],
        last: gut.at(-1)!.at,
      }),
    );
  }
  const range = profileOf(animal.species, analysis.settings.speciesOverrides).bodyTemperature
    ?.range;
  const celsius = recent.flatMap((s) =>
    s.kind === "temperature" && s.measure !== null ? [s.measure] : [],
  );
  if (range !== undefined) {
    const outside = celsius.filter((c) => c.low < range[0] || c.high > range[1]);
    if (outside.length > 0) {
      out.push(
        notice("ask-temperature", "info", {
          ...id,
          n: outside.length,
          of: celsius.length,
          lowest: Math.min(...celsius.map((c) => c.low)),
          highest: Math.max(...celsius.map((c) => c.high)),
          low: range[0],
          high: range[1],
        }),
      );
    }
  }
  if (celsius.length === 0) out.push(notice("ask-temperature-not-taken", "info", id));
  const losing = animal.gain.recent.gain.value;
  if (losing !== null && losing < 0)
    out.push(notice("ask-losing", "caution", { ...id, gain: losing }));
  return out;
}

/** What was begun or changed within three days of the change. */
function aboutTheTime(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  found: QuestionsFrom,
): Notice[] {
  const { earliest, latest } = found.change;
  if (earliest === null || latest === null) return [];
  const { zone, feedingDayStartHour } = analysis.settings;
  const from = addDays(earliest, -aroundD);
  const to = addDays(latest, aroundD);
  const near = new Map<string, { first: string; count: number }>();
  for (const h of found.happened) {
    if (h.kind === "batch begun" || h.kind === "plan changed" || isRoutine(h)) continue;
    const day = feedingDayOf(h.at, zone, feedingDayStartHour);
    if (day < from || day > to) continue;
    const words = said(h);
    const known = near.get(words);
    near.set(words, { first: known?.first ?? day, count: (known?.count ?? 0) + 1 });
  }
  if (near.size === 0) return [];
  const words = [...near].map(
    ([what, { first, count }]) =>
      `${what} (${count === 1 ? "" : `${count} times from `}${formatDate(first)})`,
  );
  return [
    notice("ask-time", "info", {
      animal: animal.animalId,
      from,
      to,
      // More would not be read; all of them stand in the table above.
      what: words.slice(0, 8),
      more: Math.max(0, words.length - 8),
    }),
  ];
}

/** Written every week whatever happens. */
const isRoutine = (h: Happening) =>
  /^(milestone: not yet|condition score|length|girth)/.test(h.words);

const said = (h: Happening) =>
  h.kind === "seen" || h.kind === "treatment" || h.kind === "event"
    ? h.words
    : `${h.kind}: ${h.words}`;

function aboutOthers(analysis: StudyAnalysis, animal: AnimalAnalysis): Notice[] {
  const slow = analysis.animals.filter(
    (a) => a !== animal && a.day?.raised.some((s) => s.kind === "slowed gain") === true,
  );
  return slow.length === 0
    ? []
    : [
        notice("ask-others", "info", {
          animal: animal.animalId,
          others: slow.map((a) => a.animalId),
        }),
      ];
}
