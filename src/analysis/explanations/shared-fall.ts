import type { CivilDate } from "../../series/animal-series.js";
import type { AnimalAnalysis, StudyAnalysis } from "../study-analysis.js";
import { ageTrend, spellsAround } from "./spells-around.js";

/** Gain that fell by this share of itself, and by so many standard errors, fell. */
const fellBy = 0.25;
const fellZ = 2;
/** How the gain of the other animals in care went from the days before to the days of the window. */
export interface SharedFall {
  readonly judged: number;
  readonly fell: readonly string[];
  readonly shared: boolean;
}

/** Of the others of the species in care, the well and the ill: who slowed in the same days? */
export function sharedFall(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  from: CivilDate,
  to: CivilDate,
): SharedFall {
  const others = analysis.animals.filter(
    (a) => a !== animal && a.inCare && a.species === animal.species,
  );
  const judged = others.flatMap((a) => {
    const { now, before } = spellsAround(analysis, a, from, to);
    if (before?.gainPct == null || now.gainPct === null || before.gainPct <= 0) return [];
    const expected = before.gainPct * (1 - ageTrend);
    const se = Math.hypot(now.gainSePct ?? 0, before.gainSePct ?? 0);
    const share = 1 - now.gainPct / expected;
    return [{ id: a.animalId, fell: share >= fellBy && expected - now.gainPct >= fellZ * se }];
  });
  const fell = judged.filter((j) => j.fell).map((j) => j.id);
  return {
    judged: judged.length,
    fell,
    shared: fell.length >= 2 && fell.length >= judged.length / 2,
  };
}
