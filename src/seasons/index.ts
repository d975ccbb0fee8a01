export type { SeasonPair } from "./compare-pair.js";
export {
  type ComparedSeason,
  type CompareSeasonsOptions,
  compareSeasons,
  type SeasonComparison,
} from "./compare-seasons.js";
export type { ProtocolChangeSeason } from "./protocol-statements.js";
export { type Spread, spreadOf } from "./spread.js";
export {
  type SeasonSummaries,
  type SeasonSummary,
  type SummariseOptions,
  summariseSeasons,
} from "./summarise-seasons.js";
