import type { StudySettings } from "../series/animal-series.js";
import type { ForecastModel } from "./forecast-expectation.js";

export interface ForecastOptions {
  readonly settings: Pick<StudySettings, "zone">;
  readonly model: ForecastModel;
  readonly targetG: number;
  /** Made at this instant from data up to it. Default: the last weighing. */
  readonly at?: number;
  /** Coverage of the intervals. Default 0.95. */
  readonly level?: number;
  /** How long before `at` the forecast is tried out. Default 14 days. */
  readonly backtestD?: number;
  /** Weighings from this instant on, e.g. the end of the arrival phase. Default: all. */
  readonly from?: number;
}
