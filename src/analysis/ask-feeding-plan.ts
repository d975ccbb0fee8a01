import { type LongWork, longWorkOf } from "../core/long-work.js";
import { remember, rememberedOf } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import { type ComparedRation, compareRations } from "../planning/compare-rations.js";
import { type AnimalForecasts, forecastAnimals } from "../planning/forecast-animals.js";
import { type PlannedDay, planDay } from "../planning/plan-day.js";
import { type WeaningProgress, weaningProgress } from "../planning/weaning-progress.js";
import { type ExpectedGains, expectedGains } from "../rates/expected-gains.js";
import { type KeptIntake, keptIntake } from "../rates/kept-intake.js";
import type { Study } from "../records/study.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { localInstant, numberOfDate } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import { analyse } from "./analyse.js";
import { animalOf, requireAnimal } from "./animal-of.js";
import { speciesAskedAbout } from "./asked-about.js";
import { levelsOfDay } from "./levels-of-day.js";
import { requireMass, requireWithin } from "./require-asked.js";
import { requireSeason } from "./require-season.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** What the feeding plan shows, worked out once. */
export interface FeedingPlanAnswer {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  /** The instant at which the plan is made. */
  readonly at: number;
  /** Target mass of the forecast, g; null where each animal's plan names its own. */
  readonly targetG: number | null;
  /** Where each animal stands at that instant. */
  readonly levels: readonly AnimalLevel[];
  readonly planned: Result<"plan-day", PlannedDay>;
  /** One animal under each change; null where every animal is on hold. */
  readonly scenarios: {
    readonly animalId: string;
    readonly compared: Result<"compare-rations", readonly ComparedRation[]>;
  } | null;
  readonly gains: Result<"expected-gains", ExpectedGains>;
  /** Eaten, come up and kept in the 24 h before that instant, an animal in care each. */
  readonly kept: readonly (KeptIntake & { readonly animalId: string })[];
  readonly weaning: readonly {
    readonly animal: AnimalAnalysis;
    readonly progress: Result<"weaning-progress", WeaningProgress>;
  }[];
  readonly forecast: Result<"forecast-animals", AnimalForecasts>;
  readonly profiles: readonly SpeciesProfile[];
}

export interface AskFeedingPlanOptions extends LongWork {
  /** Feeding day at the end of which the plan is made. Default: the last with a weighing. */
  readonly onDay?: string | null;
  /** Clock hour of that day at which it is made. Default 20. */
  readonly madeAtHour?: number;
  /** Species of the forecast. Default: that of the animal admitted last. */
  readonly forecastSpecies?: string | null;
  /** Target mass of the forecast, g. Default: the target in each animal's plan. */
  readonly targetG?: number | null;
  /** The animal whose scenarios are compared. Default: the first one with a ration. */
  readonly scenarioAnimal?: string | null;
}

/**
 * The feeding plan: what each animal gets tomorrow and why, the formula to make,
 * what a change would do, and when each should reach a target mass. A suggestion;
 * to be reviewed with the attending veterinarian.
 *
 * @example (await askFeedingPlan(study, { forecastSpecies: "sea otter", targetG: 7000 })).value.planned.value.rations.length
 */
export async function askFeedingPlan(
  study: Study,
  options: AskFeedingPlanOptions = {},
): Promise<Result<"ask-feeding-plan", FeedingPlanAnswer>> {
  const { targetG = null, madeAtHour = 20 } = options;
  requireSeason(study, options.forecastSpecies ?? null, null);
  requireMass(targetG, "the target mass");
  const hours = { needed: "an hour from 0 to 24", least: 0, most: 24 };
  requireWithin(madeAtHour, "the hour at which the plan is made", hours);
  if (options.scenarioAnimal != null) requireAnimal(study, options.scenarioAnimal);
  const forecastSpecies = options.forecastSpecies ?? speciesAskedAbout(study);
  const analysis = await analyse(study, {
    ...longWorkOf(options),
    curves: [],
    onDay: options.onDay ?? null,
  });
  const { series, settings, onDay, animals } = analysis.value;
  const at = localInstant(numberOfDate(onDay) * dayMs + madeAtHour * hourMs, settings.zone);
  const levels = levelsOfDay(analysis.value, { at });
  const planned = planDay(series, { at, levels });
  const { rations } = planned.value;
  const inCare = rations.map((r) => r.animalId);
  const scenarioId =
    (options.scenarioAnimal == null
      ? null
      : animalOf(analysis.value, options.scenarioAnimal).animalId) ??
    rations.find((r) => r.status === "ration")?.animalId ??
    null;
  const compared = series.animals.find((s) => s.animal.animalId === scenarioId);
  const own = levels.find((l) => l.animalId === scenarioId);
  const ofSpecies = series.animals.filter((s) => s.animal.species === forecastSpecies);
  const asked = { onDay, at, forecastSpecies, targetG };
  const { gains, forecast } = remember(rememberedOf(study), "feeding plan", asked, () => ({
    gains: expectedGains(ofSpecies, { settings, at, animals: inCare }),
    forecast: forecastAnimals(series, {
      species: forecastSpecies,
      at,
      ...(targetG === null ? {} : { targetG }),
    }),
  }));
  return {
    kind: "ask-feeding-plan",
    schema: 1,
    value: {
      analysis,
      at,
      targetG,
      levels,
      planned,
      scenarios:
        compared === undefined
          ? null
          : {
              animalId: compared.animal.animalId,
              compared: compareRations(compared, {
                settings,
                at,
                ...(own === undefined ? {} : { level: own }),
              }),
            },
      gains,
      kept: series.animals
        .filter((s) => inCare.includes(s.animal.animalId))
        .map((s) => ({ animalId: s.animal.animalId, ...keptIntake(s, at - dayMs, at) })),
      weaning: animals
        .filter((a) => inCare.includes(a.animalId))
        .map((animal) => ({ animal, progress: weaningProgress(animal.intake.value) })),
      forecast,
      profiles: [...new Set(rations.map((r) => r.species))].map((name) =>
        profileOf(name, settings.speciesOverrides),
      ),
    },
    method: planned.method,
    basis: planned.basis,
    diagnostics: {},
    notices: planned.notices,
  };
}
