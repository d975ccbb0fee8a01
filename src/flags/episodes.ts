import type { CivilDate } from "../series/animal-series.js";
import type { Acknowledgement, Episode, EpisodeSignal } from "./animal-day/episode.js";
import {
  closedEpisode,
  defaultEpisodeRule,
  type EpisodeRule,
  type EpisodeState,
  nextEpisodeState,
} from "./animal-day/episode-rule.js";
import type { Signal } from "./animal-day/signal.js";

/** What is carried from day to day for one animal. */
export interface EpisodeMemory {
  readonly current: Episode | null;
  readonly past: readonly Episode[];
  readonly statistical: EpisodeState;
  /** Days in a row without any rule raised. */
  readonly quietDays: number;
}

export const noEpisodes: EpisodeMemory = {
  current: null,
  past: [],
  statistical: closedEpisode,
  quietDays: 0,
};

/**
 * One day further. A statistical episode opens at its threshold and closes after
 * 2 judged days below the lower one; one opened by a rule closes after 3 days
 * without any. While an episode is open, new signals join it instead of opening
 * another. An acknowledgement of the day is taken up after the day's signals;
 * later a signal of a new kind, or a strength half as large again, reopens it.
 *
 * @example nextEpisode(noEpisodes, "P07", "2031-05-14", signals, 1.3, []).current?.openedOn // "2031-05-14"
 */
export function nextEpisode(
  memory: EpisodeMemory,
  animalId: string,
  day: CivilDate,
  raised: readonly Signal[],
  /** Strongest statistical strength of the day; null when nothing statistical was judged. */
  statisticalStrength: number | null,
  acknowledgements: readonly Acknowledgement[],
  rule: EpisodeRule = defaultEpisodeRule,
): EpisodeMemory {
  const before = memory.statistical;
  const statistical =
    statisticalStrength === null ? before : nextEpisodeState(before, statisticalStrength, rule);
  const rules = raised.filter((s) => s.class !== "statistical");
  const quietDays = rules.length > 0 ? 0 : memory.quietDays + 1;
  const stays = statistical.open || quietDays < rule.quietDays;
  let current = memory.current;
  let past = memory.past;
  if (current === null) {
    const opens = (statistical.open && !before.open) || rules.length > 0;
    if (!opens) return { current: null, past, statistical, quietDays };
    current = {
      animalId,
      openedOn: day,
      closedOn: null,
      openedBy: rules.length === 0 ? "statistical" : "rule",
      signals: [],
      acknowledged: null,
      reopened: [],
    };
  } else if (!stays) {
    past = [...past, { ...current, closedOn: day }];
    return { current: null, past, statistical, quietDays };
  }
  const reason = worsened(current, raised);
  if (reason !== null && current.acknowledged !== null) {
    current = {
      ...current,
      acknowledged: null,
      reopened: [...current.reopened, { on: day, why: reason }],
    };
  }
  current = { ...current, signals: joined(current.signals, raised, day) };
  const taken = acknowledgements.filter((a) => a.animalId === animalId && a.on === day).at(-1);
  if (taken !== undefined) {
    const strengths: Record<string, number> = {};
    for (const s of current.signals) strengths[s.kind] = s.greatestStrength;
    current = { ...current, acknowledged: { ...taken, strengths } };
  }
  return { current, past, statistical, quietDays };
}

/**
 * Closes what is still open of an animal that is no longer in care, on the first
 * day without it: nobody can look at it again, and the list says why it closed.
 *
 * @example closeWithRecord(memory, "2031-06-01").current // null
 */
export function closeWithRecord(memory: EpisodeMemory, day: CivilDate): EpisodeMemory {
  if (memory.current === null) return memory;
  const ended: Episode = { ...memory.current, closedOn: day, endedWithRecord: true };
  return { ...noEpisodes, past: [...memory.past, ended] };
}

function worsened(
  episode: Episode,
  raised: readonly Signal[],
): "new signal" | "half as large again" | null {
  const known = episode.acknowledged?.strengths;
  if (known === undefined) return null;
  if (raised.some((s) => known[s.kind] === undefined)) return "new signal";
  if (raised.some((s) => s.strength >= 1.5 * known[s.kind]!)) return "half as large again";
  return null;
}

function joined(
  known: readonly EpisodeSignal[],
  raised: readonly Signal[],
  day: CivilDate,
): readonly EpisodeSignal[] {
  const out = new Map(known.map((s) => [s.kind, s]));
  for (const s of raised) {
    const before = out.get(s.kind);
    out.set(s.kind, {
      kind: s.kind,
      firstOn: before?.firstOn ?? day,
      lastOn: day,
      greatestStrength: Math.max(before?.greatestStrength ?? 0, s.strength),
    });
  }
  return [...out.values()];
}
