import type { Chart } from "../../src/charts/chart.js";
import { expectedWeekChart } from "../../src/charts/expected-week-chart.js";
import { forecastChart } from "../../src/charts/forecast-chart.js";
import { profileChart } from "../../src/charts/profile-chart.js";
import { rationChart } from "../../src/charts/ration-chart.js";
import { seasonAnimalsChart } from "../../src/charts/season-animals-chart.js";
import { weaningChart } from "../../src/charts/weaning-chart.js";

const day = (n: number) => `2025-05-${String(n).padStart(2, "0")}`;

/** Charts of what is ahead, of how sure a curve is, and of seasons by animal, with invented data. */
export const planned: Readonly<Record<string, Chart>> = {
  forecast: forecastChart({
    name: "Mica",
    weighings: [10, 11, 12].map((d) => ({ day: d, massG: 2000 + 50 * d })),
    path: [12, 20, 30].map((d) => ({
      day: d,
      massG: 2000 + 50 * d,
      lower: 1950 + 50 * d,
      upper: 2050 + 50 * d,
    })),
    targetG: 3200,
    earlier: { day: 12, massG: 2590, lower: 2500, upper: 2680, madeOn: "1 May 2025" },
    answer: "likely on 20 May 2025",
  }),
  weaning: weaningChart({
    name: "Mica",
    weanedPct: 95,
    answer: "under way",
    days: [
      { day: day(1), share: 0, low: 0, high: 0, curve: 1 },
      { day: day(2), share: null, low: 5, high: 40, curve: 12 },
      { day: day(3), share: 30, low: 30, high: 30, curve: 31 },
    ],
  }),
  ration: rationChart({
    day: "2 May 2025",
    animals: [
      {
        name: "Mica (P1)",
        parts: [
          { diet: "milk", g: 400 },
          { diet: "clam", g: 120 },
        ],
        instead: null,
        eatenG: 480,
      },
      { name: "Osk (P2)", parts: [], instead: "hold: ask the veterinarian", eatenG: null },
    ],
  }),
  expectedWeek: expectedWeekChart({
    name: "Mica",
    weighed: [1, 2, 3, 4, 5].map((n) => ({ day: day(n), massG: 2000 + 20 * n })),
    scenarios: [
      ["(a) as in its last 7 days", 12],
      ["(b) as its contemporaries gain", 40],
    ].map(([name, gain]) => ({
      name: String(name),
      days: [1, 2, 3, 4, 5, 6, 7].map((n) => ({
        day: day(5 + n),
        massG: 2100 + Number(gain) * n,
        lower80G: 2070 + (Number(gain) - 4) * n,
        upper80G: 2130 + (Number(gain) + 4) * n,
        lower95G: 2050 + (Number(gain) - 7) * n,
        upper95G: 2150 + (Number(gain) + 7) * n,
      })),
    })),
    method: "Limits from replays on the other animals.",
  }),
  profile: profileChart({
    parameter: "A, the final mass (g)",
    points: [-3, -2, -1, 0, 1, 2, 3].map((t) => ({ value: 20000 + 900 * t + 90 * t * t, t })),
    estimate: 20000,
    lower: 18600,
    upper: null,
    level: 0.95,
  }),
  seasonAnimals: seasonAnimalsChart({
    title: "Every sea otter by season",
    valueTitle: "Gain from 21 to 63 days of age (g/d)",
    seasons: ["2023", "2024", "2025"].map((season, at) => ({
      season,
      asked: at === 2,
      animals: [-9, -2, 4, 11].map((off, i) => ({
        id: `${season}-${i}`,
        name: `Mica ${i}`,
        value: 40 + 6 * at + off,
      })),
      mean: 41 + 6 * at,
      lower: 33 + 6 * at,
      upper: 49 + 6 * at,
    })),
    intervalIs: "plain mean of the season with its 95 % interval",
  }),
};

/** The same with nothing to show. */
export const plannedEmpty: Readonly<Record<string, Chart>> = {
  forecast: forecastChart({
    name: "Mica",
    weighings: [],
    path: [],
    targetG: 3200,
    earlier: null,
    answer: "no forecast",
  }),
  weaning: weaningChart({ name: "Mica", weanedPct: 95, answer: "not begun", days: [] }),
  ration: rationChart({ day: "2 May 2025", animals: [] }),
  expectedWeek: expectedWeekChart({ name: "Mica", weighed: [], scenarios: [], method: "None." }),
  seasonAnimals: seasonAnimalsChart({
    title: "Every sea otter by season",
    valueTitle: "Gain (g/d)",
    seasons: [],
    intervalIs: "none",
  }),
};
