import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Wording } from "../../core/wording.js";
import type { Signal } from "../../flags/animal-day/signal.js";
import type { LevelReason } from "../../flags/levels/level.js";
import { byName } from "../section/by-name.js";
import { capital } from "../section/capital.js";
import { say } from "../section/say.js";

/**
 * A reason in one plain sentence with its own number. What a statistic of the
 * weighings found is put in grams and per cent; its evidence stands on the
 * animal's page. Everything else is said as it was found, by the animal's name.
 */
export function plainReason(animal: AnimalAnalysis, reason: LevelReason, wording: Wording): string {
  const signal = animal.day?.raised.find((s) => s.kind === reason.what);
  // A slowed gain is one sentence, with one window, here and on the animal's page.
  if ((signal?.kind === "slowed gain" || signal?.kind === "gain") && animal.slow !== null)
    return noticeText(animal.slow.gain, wording);
  const plain = signal === undefined ? null : plainSignal(signal);
  return plain ?? capital(noticeText(byName(reason.sentence, animal), wording));
}

function plainSignal(signal: Signal): string | null {
  switch (signal.kind) {
    case "level": {
      const { massG: mass, contemporariesCentreG: centre, contemporaries: n } = signal.evidence;
      return say("plain-level", { mass: Math.round(mass), centre: Math.round(centre), n });
    }
    case "gain":
    case "too-fast gain": {
      const { gainPctPerD: gain, contemporariesCentrePctPerD: centre } = signal.evidence;
      const n = signal.evidence.contemporaries;
      return say(signal.kind === "gain" ? "plain-gain" : "plain-too-fast", { gain, centre, n });
    }
    case "loss from peak": {
      const { nowG: now, peakG: peak, peakDay: day, lossPct: pct } = signal.evidence;
      if (now === null || peak === undefined || day === undefined || pct === undefined) return null;
      return say("plain-fall", { now: Math.round(now), peak: Math.round(peak), day, pct });
    }
    case "conversion": {
      const { ownGPer1000Kcal: own, contemporariesGPer1000Kcal: others } = signal.evidence;
      const n = signal.evidence.contemporaries;
      return say("plain-conversion", { own: Math.round(own), others: Math.round(others), n });
    }
    case "surprise average":
    case "surprise sum":
      return say("plain-surprise");
    default:
      return null;
  }
}
