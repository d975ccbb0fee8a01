import { type Notice, notice } from "../core/notice.js";
import type { AnimalSeries, CivilDate } from "../series/animal-series.js";
import type { Episode } from "./animal-day/episode.js";
import type { AnimalDay, ExpectedToday, NotJudged } from "./animal-day/flag.js";
import type { Signal } from "./animal-day/signal.js";

/**
 * Puts one animal's signals of a day together. Flagged: something is raised, or
 * an episode is still open. Not judged: nothing could be computed from its
 * weighings, no judgement of the days before stands, and nothing else was raised.
 */
export function assembleDay(
  series: AnimalSeries,
  day: CivilDate,
  phase: string | null,
  outcomes: readonly (Signal | NotJudged)[],
  episode: Episode | null,
  expected: ExpectedToday,
  /** Day of the weighing whose judgement stands today, where it was not judged anew. */
  standsFrom: CivilDate | null = null,
): AnimalDay {
  const { animalId, name, species } = series.animal;
  const signals = outcomes.filter((o): o is Signal => "raised" in o);
  const raised = signals.filter((s) => s.raised).sort((a, b) => weight(b) - weight(a));
  const notJudged = outcomes.filter((o): o is NotJudged => !("raised" in o));
  const judgedOn = signals.some((s) => s.class === "statistical") ? day : standsFrom;
  const flagged = raised.length > 0 || episode !== null;
  const status = flagged ? "flagged" : judgedOn !== null ? "not flagged" : "not judged";
  const sentence: Notice =
    raised.length > 0
      ? notice("flag-day-flagged", "problem", {
          animal: animalId,
          signals: raised.map((s) => s.kind),
        })
      : episode !== null
        ? notice("flag-day-open", "caution", {
            animal: animalId,
            since: episode.openedOn,
            signals: episode.signals.map((s) => s.kind),
          })
        : status === "not flagged" && judgedOn !== day
          ? notice("flag-day-stands", "info", { animal: animalId, weighed: judgedOn })
          : status === "not flagged"
            ? notice("flag-day-not-flagged", "info", {
                animal: animalId,
                judged: signals.map((s) => s.kind),
              })
            : notice("flag-day-not-judged", "caution", { animal: animalId });
  return {
    animalId,
    name,
    species,
    day,
    phase,
    status,
    judgedOn,
    severity: raised.reduce((most, s) => Math.max(most, weight(s)), episode === null ? 0 : 0.5),
    raised,
    within: signals.filter((s) => !s.raised),
    notJudged,
    episode,
    expected,
    sentence,
  };
}

/** Dangers stand above everything else; then the strength decides. */
function weight(signal: Signal): number {
  return signal.strength + (signal.class === "danger" ? 1000 : 0);
}

const order = { flagged: 0, "not judged": 1, "not flagged": 2 };

/** Flagged first by severity, then not judged, then not flagged; ties by name. */
export function worstFirst(a: AnimalDay, b: AnimalDay): number {
  return (
    order[a.status] - order[b.status] ||
    b.severity - a.severity ||
    (a.animalId < b.animalId ? -1 : a.animalId > b.animalId ? 1 : 0)
  );
}
