import { longWorkOf } from "../core/long-work.js";
import type { Notice } from "../core/notice.js";
import { rememberedOf, rememberSteps } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import { runStepsInTurns } from "../core/steps.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import type { MissingGrams } from "../flags/missing-grams.js";
import { type FeedingRhythm, feedingRhythm } from "../rates/feeding-rhythm.js";
import { type MassForLength, massForLength } from "../rates/mass-for-length.js";
import type { Study } from "../records/study.js";
import { dayMs } from "../units/day-ms.js";
import { type AnalyseOptions, analyse } from "./analyse.js";
import { animalOf, requireAnimal } from "./animal-of.js";
import { firstOfConcern } from "./asked-about.js";
import type { ChangeOfGain } from "./change-of-gain.js";
import { type ContemporaryFeeding, contemporaryFeeding } from "./contemporary-feeding.js";
import { examinationQuestions } from "./examination-questions.js";
import { type ExpectedWeek, expectedWeek } from "./expected-week.js";
import { explainSlowGain } from "./explain-slow-gain.js";
import type { RivalExplanations } from "./explanations/explanation.js";
import { type IntakeAtTheMargin, intakeAtTheMargin } from "./intake-at-the-margin.js";
import { levelsOfDay } from "./levels-of-day.js";
import type { RealOrNot } from "./real-answer.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";
import { type Happening, whatHappened } from "./what-happened.js";
import { type WhatWouldChange, whatWouldChangeSteps } from "./what-would-change.js";

/** Everything that the page of a slow gainer shows, worked out once. */
export interface SlowGainerAnswer {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  readonly animal: AnimalAnalysis;
  /** Where it stands at its last record; null where it is not in care. */
  readonly level: AnimalLevel | null;
  /** Days of the picture and of what else happened. */
  readonly shownDays: number;
  readonly change: Result<"change-of-gain", ChangeOfGain>;
  readonly real: Result<"real-or-not", RealOrNot>;
  readonly missing: Result<"missing-grams", MissingGrams>;
  /** Why it may be: every rival explanation, the leading ones first. "In short" comes from here alone. */
  readonly explanations: Result<"rival-explanations", RivalExplanations>;
  readonly margin: Result<"intake-at-the-margin", IntakeAtTheMargin>;
  readonly week: Result<"expected-week", ExpectedWeek>;
  readonly whatWouldChange: Result<"what-would-change", WhatWouldChange>;
  readonly happened: readonly Happening[];
  readonly rhythm: Result<"feeding-rhythm", FeedingRhythm>;
  readonly massForLength: Result<"mass-for-length", MassForLength>;
  readonly contemporaryFeeding: Result<"contemporary-feeding", ContemporaryFeeding>;
  /** Questions for the examination, from this animal's records. */
  readonly questions: readonly Notice[];
}

export interface AskSlowGainerOptions extends AnalyseOptions {
  /** Id or name of the animal. Default: the one that the day's page names first. */
  readonly animal?: string | null;
}

/** Days over which the feeding rhythm is looked at. */
const lookBackD = 14;
const shownDays = 42;

/**
 * The slow gainer: is it real, since when, is it eaten, converted or lost, what
 * to expect next, and what to ask at the examination; one animal, up to the end
 * of one day. No diagnosis.
 *
 * @throws UsageError for an animal that is not there by that day, naming the nearest.
 * @example (await askSlowGainer(study, { animal: "O25-04" })).value.real.value.answers[0].verdict // "not found"
 */
export async function askSlowGainer(
  study: Study,
  options: AskSlowGainerOptions = {},
): Promise<Result<"ask-slow-gainer", SlowGainerAnswer>> {
  const { animal: named = null } = options;
  if (named !== null) requireAnimal(study, named);
  const analysed = await analyse(study, options);
  const analysis = analysed.value;
  const animal = named === null ? firstOfConcern(analysis) : animalOf(analysis, named);
  const { series } = animal;
  const end = series.span?.to ?? 0;
  const asked = { ...analysed.method.options, curves: [], animal: animal.animalId };
  const steps = rememberSteps(rememberedOf(study), "slow gainer", asked, function* () {
    yield { done: 0, total: 3, doing: `why ${animal.animalId} gains as it does` };
    const explained = explainSlowGain(analysis, animal, study.tables.housing);
    const { change, real, missing, explanations, shortfall } = explained;
    const week = expectedWeek(analysis, animal);
    yield { done: 1, total: 3, doing: `what a gram of gain costs ${animal.animalId}` };
    const margin = intakeAtTheMargin(analysis, animal, missing.value);
    yield { done: 2, total: 3, doing: "what would change the picture" };
    const asked = { week: week.value, change: change.value, shortfall };
    return {
      ...{ change, real, missing, explanations, margin, week },
      whatWouldChange: yield* whatWouldChangeSteps(analysis, animal, asked),
    };
  });
  const worked = await runStepsInTurns(steps, longWorkOf(options));
  const { change, real, missing, margin } = worked;
  const happened = whatHappened(analysis, animal, {
    from: end - shownDays * dayMs,
    housing: study.tables.housing,
  });
  const sameSpecies = analysis.animals.filter((a) => a.species === animal.species);
  return {
    kind: "ask-slow-gainer",
    schema: 1,
    value: {
      analysis: analysed,
      animal,
      level: levelsOfDay(analysis, { at: end }).find((l) => l.animalId === animal.animalId) ?? null,
      shownDays,
      ...worked,
      happened,
      rhythm: feedingRhythm(series, {
        settings: analysis.settings,
        from: end - lookBackD * dayMs,
      }),
      massForLength: massForLength(sameSpecies.map((a) => a.series)),
      contemporaryFeeding: contemporaryFeeding(analysis, animal),
      questions: examinationQuestions(analysis, animal, {
        real: real.value,
        change: change.value,
        missing: missing.value,
        margin: margin.value,
        happened,
      }),
    },
    method: {
      ...analysed.method,
      options: { ...analysed.method.options, animal: animal.animalId },
    },
    basis: { used: series.weighings.length, leftOut: [], of: "weighings of the animal" },
    diagnostics: {},
    notices: missing.notices.filter((n) => n.code.startsWith("contemporaries")),
  };
}
