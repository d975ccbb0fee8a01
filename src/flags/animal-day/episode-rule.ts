/**
 * When an episode closes. A statistical one opens on the first judged day whose strength
 * reaches 1, and closes after `daysBelow` judged days in a row below the lower threshold;
 * days not judged change nothing. One opened by a rule closes after `quietDays` days
 * without any. Chosen in the world for calibrating (decision 41).
 */
export interface EpisodeRule {
  /** Share of the threshold below which a day counts towards closing. Default 0.8. */
  readonly lower: number;
  /** Judged days in a row below it that close the episode. Default 2. */
  readonly daysBelow: number;
  /** Days in a row without any rule raised that close one opened by a rule. Default 3. */
  readonly quietDays: number;
}

export const defaultEpisodeRule: EpisodeRule = { lower: 0.8, daysBelow: 2, quietDays: 3 };

export interface EpisodeState {
  readonly open: boolean;
  readonly below: number;
}

export const closedEpisode: EpisodeState = { open: false, below: 0 };

/**
 * One judged day further.
 *
 * @example nextEpisodeState({ open: false, below: 0 }, 1.2).open // true
 */
export function nextEpisodeState(
  state: EpisodeState,
  strength: number,
  rule: EpisodeRule = defaultEpisodeRule,
): EpisodeState {
  if (!state.open) return strength >= 1 ? { open: true, below: 0 } : closedEpisode;
  const below = strength < rule.lower ? state.below + 1 : 0;
  return below >= rule.daysBelow ? closedEpisode : { open: true, below };
}

/**
 * Counts the openings in a series of judged days.
 *
 * @example countOpenings([0.2, 1.1, 0.5, 0.5, 0.5, 1.3]) // 2
 */
export function countOpenings(
  strengths: ArrayLike<number>,
  scale = 1,
  rule: EpisodeRule = defaultEpisodeRule,
): number {
  let open = false;
  let below = 0;
  let count = 0;
  for (let i = 0; i < strengths.length; i++) {
    const s = strengths[i]! / scale;
    if (!open) {
      if (s >= 1) {
        open = true;
        below = 0;
        count++;
      }
    } else if (s < rule.lower) {
      below++;
      if (below >= rule.daysBelow) open = false;
    } else below = 0;
  }
  return count;
}
