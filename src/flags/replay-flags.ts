import { longWorkOf } from "../core/long-work.js";
import { runSteps, type Steps } from "../core/steps.js";
import { limitsInForce } from "../rates/limits-in-force.js";
import type { CivilDate, StudySeries } from "../series/animal-series.js";
import { numberOfDate } from "../units/calendar.js";
import { defaultCalibration } from "./budget/default-calibration.js";
import type { Replay, ReplayOptions } from "./replay.js";
import { ReplayDays, type ReplaySettings } from "./replay-days.js";
import { agreedSoFar, type ReplayedFrom, type ReplayHistory } from "./replay-history.js";
import { defaultRuleLimits } from "./rules/rule-limits.js";
import { watchOfStudy } from "./watch/watch-of-study.js";

/**
 * Replays the flags of a study day by day, each list exactly as it would have
 * been at the end of that feeding day: nothing later is read. Answers the day's
 * list for every day asked for; the memory of episodes always begins with the
 * first record.
 *
 * @example replayFlags(series, { from: "2024-05-01", to: "2024-05-07" }).days.length // 7
 */
export function replayFlags(study: StudySeries, options: ReplayOptions = {}): Replay {
  return replayFlagsOn(null, study, options).replay;
}

/**
 * The same, going on from the history of an earlier replay of this study or of one that
 * agrees with it up to some day: what comes out does not depend on it, only how long it
 * takes. The days that the history holds are not gone through again. `"begin"` makes the
 * first history, `null` keeps none.
 *
 * @example replayFlagsOn("begin", study, { to: "2031-05-30" }).history // for 2031-05-31
 */
export function replayFlagsOn(
  history: ReplayHistory | "begin" | null,
  study: StudySeries,
  options: ReplayOptions = {},
): ReplayedOn {
  return runSteps(replaySteps(history, study, options), longWorkOf(options));
}

/** A replay, and what the next one may go on from. */
export interface ReplayedOn {
  readonly replay: Replay;
  readonly history: ReplayHistory | null;
}

/** The steps of `replayFlagsOn`, to be run by whoever has other things to do in between. */
export function* replaySteps(
  history: ReplayHistory | "begin" | null,
  study: StudySeries,
  options: ReplayOptions,
): Steps<ReplayedOn> {
  const before = history === "begin" ? null : history;
  const first = firstDay(study);
  const last = options.to ?? lastDay(study);
  if (first === null || last === null || last < first)
    return {
      replay: { days: [], episodes: [], borrowed: [], courses: [], thresholds: [] },
      history: before,
    };
  const settings = settingsOf(study, options, first, last);
  const from = replayedFrom(study, options, settings);
  const replayed = from === null ? null : (before?.replayed ?? null);
  const agreed = agreedSoFar(replayed, from);
  const keepsDays = history !== null && from !== null;
  const days = new ReplayDays(study, settings, replayed, agreed, keepsDays);
  const watch = yield* watchOfStudy(days.keptStudy(), {
    phaseOn: days.phaseOn,
    firstShown: settings.firstShown,
    lastNumber: settings.lastNumber,
    together: options.together !== false,
    history: history === null || history === "begin" ? history : history.watch,
  });
  const goOnFrom = Math.min(agreed.upTo, watch.knownUpTo, settings.firstShown - 1);
  const found = yield* days.replay(watch, goOnFrom);
  return {
    replay: {
      days: found.days,
      episodes: found.episodes,
      borrowed: watch.borrowed,
      courses: watch.courses,
      thresholds: found.thresholds,
    },
    history:
      history === null
        ? null
        : { watch: watch.history!, replayed: from === null ? null : days.soFar(from) },
  };
}

/** All that is fixed for every day of a replay. */
function settingsOf(
  study: StudySeries,
  options: ReplayOptions,
  first: CivilDate,
  last: CivilDate,
): ReplaySettings {
  return {
    options,
    limits: { ...limitsInForce(defaultRuleLimits, study.settings), ...options.rules },
    calibration: options.calibration ?? defaultCalibration,
    budget: options.falseFlagsPer100AnimalWeeks ?? 2,
    firstNumber: numberOfDate(first),
    firstShown: numberOfDate(options.from ?? first),
    lastNumber: numberOfDate(last),
  };
}

/**
 * What the days hang on; null where they are asked for in a way that no other replay may go
 * on from: with phases told from outside, or without earlier seasons, which hangs on the
 * first day shown.
 */
function replayedFrom(
  study: StudySeries,
  options: ReplayOptions,
  { limits, calibration, budget }: ReplaySettings,
): ReplayedFrom | null {
  if (options.phaseOn !== undefined || options.earlierSeasons === false) return null;
  return {
    study,
    intakeOf: options.intakeOf ?? (() => undefined),
    acknowledgements: options.acknowledgements ?? [],
    calibration,
    settings: JSON.stringify({ limits, budget, settings: study.settings }),
  };
}

function firstDay(study: StudySeries): CivilDate | null {
  const days = study.animals.flatMap((a) => a.daily[0]?.feedingDay ?? []);
  return days.sort()[0] ?? null;
}

const dayInDoubt: ReadonlySet<string> = new Set(["wrong day", "days swapped"]);

/** Last day with a weighing, a doubted one included unless its day is what is doubted. */
export function lastDay(study: StudySeries): CivilDate | null {
  const days = study.animals.flatMap((a) => {
    const doubted = a.weighings.filter(
      (w) => w.slip !== null && w.netG !== null && !dayInDoubt.has(w.slip.kind),
    );
    return [a.daily.at(-1)?.feedingDay ?? [], doubted.at(-1)?.feedingDay ?? []].flat();
  });
  return days.sort().at(-1) ?? null;
}
