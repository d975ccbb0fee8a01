import type { Forecast } from "./forecast-at.js";

/** Expected mass at an age, with the limits between which it is expected. */
export interface ForecastPoint {
  readonly ageD: number;
  readonly massG: number;
  readonly lower: number;
  readonly upper: number;
}

/** Points of the path, the first and the last included. */
const points = 40;

/**
 * The expected mass from an age on: to the day by which the target is reached
 * for certain, where the model sees that, else as far as the model reaches. Empty
 * where there is no model.
 */
export function forecastPath(forecast: Forecast, fromAge: number): ForecastPoint[] {
  const { expect, horizon, latest, reached } = forecast;
  if (expect === null || horizon === null || reached) return [];
  const to = Math.min(horizon, latest ?? horizon);
  if (!(to > fromAge)) return [];
  return Array.from(
    { length: points },
    (_, i) => fromAge + (i * (to - fromAge)) / (points - 1),
  ).flatMap((ageD) => {
    const e = expect(ageD);
    return "code" in e ? [] : [{ ageD, massG: e.mass, lower: e.lower, upper: e.upper }];
  });
}
