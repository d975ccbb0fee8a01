import { animalCourseChart } from "../../src/charts/animal-course-chart.js";
import { averageCurveChart } from "../../src/charts/average-curve-chart.js";
import type { Chart } from "../../src/charts/chart.js";
import { contemporariesChart } from "../../src/charts/contemporaries-chart.js";
import { conversionChart } from "../../src/charts/conversion-chart.js";
import { gainChart } from "../../src/charts/gain-chart.js";
import { growthCurveChart } from "../../src/charts/growth-curve-chart.js";
import { historiesChart } from "../../src/charts/histories-chart.js";
import { intakeChart } from "../../src/charts/intake-chart.js";
import { intervalChart } from "../../src/charts/interval-chart.js";
import { residualChart } from "../../src/charts/residual-chart.js";
import { seasonCurvesChart } from "../../src/charts/season-curves-chart.js";
import { shareChart } from "../../src/charts/share-chart.js";
import { planned, plannedEmpty } from "./sample-planning-charts.js";

const days = [5, 10, 15, 20, 25, 30];
const mass = (day: number) => 1900 * Math.exp(0.011 * day);
const day = (n: number) => `2025-05-${String(n).padStart(2, "0")}`;
const at = (n: number) => Date.UTC(2025, 4, n, 18);
const points = days.map((d) => ({ day: d, massG: mass(d), used: d !== 15 }));

/** One of each chart function, by its name without "Chart", with invented data. */
export const full: Readonly<Record<string, Chart>> = {
  ...planned,
  growthCurve: growthCurveChart({
    name: "Mica",
    points,
    curves: [
      {
        name: "gompertz",
        points: days.map((d) => ({
          day: d,
          massG: mass(d),
          lower: mass(d) * 0.98,
          upper: mass(d) * 1.02,
        })),
      },
      {
        name: "logistic",
        points: days.map((d) => ({ day: d, massG: mass(d) + 30, lower: null, upper: null })),
      },
    ],
    bandIs: "95 % confidence band of the curve",
  }),
  averageCurve: averageCurveChart({
    title: "Averaged and typical",
    of: "mass",
    animals: 12,
    points: days.map((d) => ({
      day: d,
      average: mass(d),
      lower: mass(d) - 40,
      upper: mass(d) + 40,
      typical: mass(d) + 25,
      animalsLower: mass(d) * 0.9,
      animalsUpper: mass(d) * 1.1,
    })),
    bandIs: "80 % of animals",
    intervalIs: "95 % interval of the averaged curve",
  }),
  residual: residualChart({
    name: "Mica",
    points: days.map((d) => ({ day: d, residual: Math.sin(d) * 20 })),
    unit: "g",
  }),
  gain: gainChart({
    name: "Mica",
    points: days.map((d) => ({ day: d, gain: d, lower: d - 4, upper: d + 4 })),
    unit: "g/d",
    method: "Regression over 7 days with 95 % interval",
  }),
  contemporaries: contemporariesChart({
    animal: { name: "Mica", points },
    others: [
      { name: "Fern", points },
      { name: "Juno", points },
    ],
    band: days.map((d) => ({
      day: d,
      n: 9,
      low: mass(d) * 0.9,
      lowerQuarter: mass(d) * 0.95,
      middle: mass(d),
      upperQuarter: mass(d) * 1.05,
      high: mass(d) * 1.1,
    })),
    othersAre: "other sea otters of the study",
  }),
  intake: intakeChart({
    name: "Mica",
    days: [1, 2, 3].map((n) => ({
      day: day(n),
      gPerDay: n === 2 ? null : 300 + n,
      lowG: n === 2 ? 280 : null,
      highG: n === 2 ? 320 : null,
      kcalPerDay: 500,
      percentOfMass: 22,
      plannedG: 310,
    })),
  }),
  animalCourse: animalCourseChart({
    name: "Mica",
    zone: "America/Vancouver",
    gainDays: 7,
    from: at(1),
    to: at(12),
    masses: [1, 4, 8, 11].map((n) => ({ at: at(n), massG: 2000 + 10 * n })),
    gains: [8, 11].map((n) => ({ at: at(n), value: 10, lower: 6, upper: 14 })),
    intake: [
      { at: at(3), value: 300, lower: null, upper: null },
      { at: at(4), value: null, lower: 250, upper: 320 },
    ],
    planned: [3, 4].map((n) => ({ at: at(n), value: 350 })),
    temperatures: [
      { at: at(2), value: 37.4 },
      { at: at(9), value: 39.6 },
    ],
    marks: [{ at: at(3), kind: "vomit", words: "small" }],
    others: {
      masses: [1, 11].map((n) => ({
        at: at(n),
        n: 9,
        low: 1900 + 30 * n,
        lowerQuarter: 1980 + 30 * n,
        middle: 2000 + 30 * n,
        upperQuarter: 2050 + 30 * n,
        high: 2150 + 30 * n,
      })),
      massDots: [],
      gains: [],
      are: "9 contemporaries",
    },
    expected: {
      points: [4, 11].map((n) => ({
        at: at(n),
        value: 2000 + 30 * n,
        lower: 1990 + 28 * n,
        upper: 2010 + 32 * n,
      })),
      words: "expected of it",
    },
    missing: { fromG: 2110, toG: 2330, words: ["220 g missing", "(190 to 250)"] },
    slopes: [{ from: at(4), to: at(11), words: "gains 10 g/d (6 to 14)" }],
    change: {
      at: at(4),
      earliest: at(3),
      latest: at(6),
      label: ["slower from about 4 May", "3 to 6 May fit the records"],
      words: "Dashed through all panels: 4 May 2025; shaded: 3 to 6 May 2025, 90 % interval.",
    },
    usualC: [36.9, 38.6],
  }),
  histories: historiesChart({
    histories: ["Mica", "Fern", "Juno", "Wren"].map((name, i) => ({
      name,
      animalId: `M${i}`,
      points: days.map((d) => ({ day: d, massG: mass(d) + 40 * i })),
    })),
    behind: days.map((d) => ({
      day: d,
      n: 9,
      low: mass(d) * 0.8,
      lowerQuarter: mass(d) * 0.9,
      middle: mass(d),
      upperQuarter: mass(d) * 1.1,
      high: mass(d) * 1.2,
    })),
    behindAre: "9 animals of other seasons",
  }),
  interval: intervalChart({
    title: "Mean gain by season",
    valueTitle: "Mean gain (g/d)",
    rows: [
      { name: "2024", value: 41, lower: 35, upper: 47, n: 7 },
      { name: "2025", value: 55, lower: 49, upper: 61, n: 6 },
      { name: "2026", value: null, lower: null, upper: null, n: 1 },
    ],
    intervalIs: "95 % interval of the mean",
    reference: 40,
    of: "season",
  }),
  conversion: conversionChart({
    rows: [
      { name: "Mica", group: "sea otter", keptPerDay: 500, gainPerDay: 30 },
      { name: "Fern", group: "harbour seal", keptPerDay: 600, gainPerDay: 45 },
      { name: "Juno", group: "sea otter", keptPerDay: null, gainPerDay: 45 },
    ],
    keptTitle: "Energy kept (kcal/d)",
    gainTitle: "Gain (g/d)",
    highlight: "Mica",
    method: "means of the last 14 days",
  }),
  seasonCurves: seasonCurvesChart({
    of: "sea otter",
    curves: ["2024", "2025"].map((name, i) => ({
      name,
      n: 5 + i,
      points: days.map((d) => ({
        day: d,
        massG: mass(d) * (1 + i / 20),
        lower: mass(d) * (0.95 + i / 20),
        upper: mass(d) * (1.05 + i / 20),
      })),
    })),
    differences: [
      {
        name: "2025 against 2024",
        points: days.map((d) => ({ day: d, percent: 5, lower: -2, upper: 12 })),
      },
    ],
    bandIs: "95 % interval at each age by itself",
    method: "Mixed model",
    at: "at an arrival mass of 1800 g",
  }),
  share: shareChart({
    milestone: "full weaning",
    of: "sea otter",
    n: 9,
    seen: 7,
    points: [
      { day: 90, least: 0, most: 0, lower: 0, upper: 0.3 },
      { day: 105, least: 0, most: 0.4, lower: 0, upper: 0.7 },
      { day: 112, least: 0.4, most: 0.4, lower: 0.1, upper: 0.7 },
      { day: 130, least: 1, most: 1, lower: 0.7, upper: 1 },
    ],
    gone: [{ day: 100, died: 0.1, left: 0.1 }],
    dayTitle: "Age (days)",
    intervalIs: "95 % interval",
    method: "Turnbull's estimate",
  }),
};

/** The same charts with nothing in them. */
export const empty: Readonly<Record<string, Chart>> = {
  ...plannedEmpty,
  growthCurve: growthCurveChart({ name: "Mica", points: [], curves: [], bandIs: "" }),
  residual: residualChart({ name: "Mica", points: [], unit: "g" }),
  gain: gainChart({ name: "Mica", points: [], unit: "g/d", method: "Regression" }),
  contemporaries: contemporariesChart({
    animal: { name: "Mica", points: [] },
    others: [],
    band: [],
    othersAre: "none",
  }),
  intake: intakeChart({ name: "Mica", days: [] }),
  animalCourse: animalCourseChart({
    name: "Mica",
    zone: "UTC",
    gainDays: 7,
    from: at(1),
    to: at(2),
    masses: [],
    gains: [],
    intake: [],
    planned: [],
    temperatures: [],
    marks: [],
  }),
  histories: historiesChart({ histories: [], behind: [], behindAre: "nobody" }),
  averageCurve: averageCurveChart({
    title: "Averaged and typical",
    of: "gain",
    animals: 0,
    points: [],
    bandIs: "none",
    intervalIs: "none",
  }),
  interval: intervalChart({
    title: "Mean gain",
    valueTitle: "Mean gain (g/d)",
    rows: [],
    intervalIs: "interval",
    of: "season",
  }),
  conversion: conversionChart({
    rows: [],
    keptTitle: "Intake",
    gainTitle: "Gain",
    method: "none",
  }),
  seasonCurves: seasonCurvesChart({
    of: "sea otter",
    curves: [],
    differences: [],
    bandIs: "none",
    method: "none",
    at: "nothing",
  }),
  share: shareChart({
    milestone: "full weaning",
    of: "sea otter",
    n: 0,
    seen: 0,
    points: [],
    gone: [],
    dayTitle: "Age (days)",
    intervalIs: "none",
    method: "none",
  }),
};
