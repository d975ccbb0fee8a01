import { notice } from "../../core/notice.js";
import { dayMs } from "../../units/day-ms.js";
import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";
import { fitWith } from "./step-in-course.js";

/** Days looked at, and the least change of the share of unusual weighings that could bend a course. */
const lookD = 28;
const leastChange = 0.4;
const fewestBefore = 6;
const fewestSince = 3;
/** Share of what is missing that the change must account for. */
const accountsFor = 0.25;
/** What a wet coat or a meal is worth must stand out by so much. */
const clearZ = 3;
const leastEffect = 0.012;

/**
 * Was it weighed wet, or after a meal, and then no longer, so that its course bends
 * by itself? By what such weighings weighed more than the line through the others
 * (one slope for all), and by how their share changed.
 */
export function weighingCondition(c: SlowGainerCase): RivalExplanation {
  const bare = { rival: "weighing condition", speaksFor: [], speaksAgainst: [], ask: [] } as const;
  const id = { animal: c.animal.animalId };
  const { days, told } = toldOf(c);
  if (days.length < 8 || !conditionsTold(c)) {
    const stepped = c.ownStep !== null && c.ownStep.step < -leastEffect;
    return {
      ...bare,
      verdict: "cannot be told",
      speaksFor: stepped ? [ownStepSentence(c)] : [],
      ask: [
        notice("rival-condition-not-written", "caution", {
          ...id,
          n: days.length - told.length,
          of: days.length,
        }),
      ],
      weight: stepped ? 0.9 : 0.1,
    };
  }
  const unusual = (i: number) =>
    told[i]!.row.meal === "after" || told[i]!.row.coat !== "dry" ? 1 : 0;
  const n = told.length;
  const part = (from: number, to: number) => {
    let sum = 0;
    for (let i = from; i < to; i++) sum += unusual(i);
    return to === from ? 0 : sum / (to - from);
  };
  // The day that parts the usual from the unusual best.
  let [early, late] = [0, 1];
  for (let k = fewestBefore; k <= n - fewestSince; k++) {
    const [e, l] = [part(0, k), part(k, n)];
    if (e - l > early - late) [early, late] = [e, l];
  }
  const fit = fitWith(
    told.map(({ d }) => d.at / dayMs),
    told.map(({ d }) => Math.log(d.massG)),
    told.map(() => 0.009 ** -2),
    unusual,
  );
  const p = {
    ...id,
    early: 100 * early,
    late: 100 * late,
    effect: fit === null ? null : 100 * fit.third,
    n,
  };
  const moves = early - late >= leastChange;
  const clear = fit !== null && fit.third >= leastEffect && fit.third / fit.se >= clearZ;
  const missing = Math.max(0, ((c.deficit.missingPct ?? 0) / 100) * c.days);
  const share = ((early - late) * Math.max(0, fit?.third ?? 0)) / Math.max(missing, 0.01);
  const enough = share >= accountsFor;
  if (moves && clear && enough) {
    return {
      ...bare,
      verdict: "likely",
      speaksFor: [notice("rival-condition", "caution", p)],
      ask: [notice("rival-condition-ask", "caution", id)],
      weight: 1,
    };
  }
  if (enough && (moves || (early - late >= 0.2 && clear))) {
    return {
      ...bare,
      verdict: "possible",
      speaksFor: [notice("rival-condition", "info", p)],
      ask: [notice("rival-condition-ask", "caution", id)],
      weight: Math.min(0.5, share),
    };
  }
  return {
    ...bare,
    verdict: "speaks against",
    speaksAgainst: [notice("rival-condition-same", "info", p)],
    weight: 0,
  };
}

/** Its weighings of the last weeks, and those of them that say how it was weighed. */
function toldOf(c: SlowGainerCase) {
  const end = c.animal.last?.at ?? 0;
  const stands = new Map(
    c.animal.series.weighings
      .filter((w) => w.standing === "stands for the day")
      .map((w) => [w.at, w.row]),
  );
  const days = c.animal.series.daily
    .filter((d) => d.at > end - lookD * dayMs && d.massG > 0 && d.feedingDay >= c.course)
    .flatMap((d) => {
      const row = stands.get(d.at);
      return row === undefined ? [] : [{ d, row }];
    });
  return { days, told: days.filter(({ row }) => row.coat !== null && row.meal !== "unknown") };
}

/** Whether coat and meal are written often enough to say anything of them. */
export function conditionsTold(c: SlowGainerCase): boolean {
  const { days, told } = toldOf(c);
  return told.length >= 0.6 * days.length;
}

/** The step of its own course, where one stands out. */
export function ownStepSentence(c: SlowGainerCase) {
  return notice("rival-own-step", "caution", {
    animal: c.animal.animalId,
    day: c.ownStep?.day ?? c.from,
    pct: 100 * Math.abs(c.ownStep?.step ?? 0),
  });
}
