/**
 * What is written by hand here beside what a maintained library does: digits shared
 * with certified values, and processor time, side by side in one run. The table in
 * DEVELOPERS.md quotes the result. Run: npm run bench libraries
 *
 * Certified values: NIST Statistical Reference Datasets, NumAcc4 (sd exactly 0.1) and
 * Longley (https://www.itl.nist.gov/div898/strd/); the normal tail at -3 from
 * Abramowitz and Stegun (1964), table 26.1, extended by series.
 */
import { MultivariateLinearRegression, SimpleLinearRegression } from "ml-regression";
import {
  cumulativeStdNormalProbability,
  quantile as libraryQuantile,
  linearRegression,
  median,
  sampleStandardDeviation,
} from "simple-statistics";
import { describe } from "../../src/stats/descriptive/describe.js";
import { quantile } from "../../src/stats/descriptive/quantile.js";
import { normalCumulative } from "../../src/stats/distributions/normal.js";
import { matrixFromColumns } from "../../src/stats/linear-algebra/matrix.js";
import { fitLinearModel } from "../../src/stats/linear-model/fit-linear-model.js";
import { sharedDigits } from "../truth/nist-strd/read-certified-data.js";
import { record } from "./curves-record.js";

const longley = `60323 83.0 234289 2356 1590 107608 1947
61122 88.5 259426 2325 1456 108632 1948
60171 88.2 258054 3682 1616 109773 1949
61187 89.5 284599 3351 1650 110929 1950
63221 96.2 328975 2099 3099 112075 1951
63639 98.1 346999 1932 3594 113270 1952
64989 99.0 365385 1870 3547 115094 1953
63761 100.0 363112 3578 3350 116219 1954
66019 101.2 397469 2904 3048 117388 1955
67857 104.6 419180 2822 2857 118734 1956
68169 108.4 442769 2936 2798 120445 1957
66513 110.8 444546 4681 2637 121950 1958
68655 112.6 482704 3813 2552 123366 1959
69564 114.2 502601 3931 2514 125368 1960
69331 115.7 518173 4806 2572 127852 1961
70551 116.9 554894 4007 2827 130081 1962`
  .split("\n")
  .map((line) => line.split(" ").map(Number));
const certified = [
  -3482258.63459582, 15.0618722713733, -0.035819179292591, -2.02022980381683, -1.03322686717359,
  -0.0511041056535807, 1829.15146461355,
];

const digits = (got: number, want: number) =>
  Number(Math.max(0, sharedDigits(got, want)).toFixed(1));
const worst = (got: readonly number[]) =>
  Math.min(...certified.map((want, i) => digits(got[i]!, want)));
function milliseconds(work: () => void): number {
  let least = Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < 15; turn++) {
    const from = process.cpuUsage();
    work();
    const used = process.cpuUsage(from);
    least = Math.min(least, (used.user + used.system) / 1000);
  }
  return Number(least.toFixed(2));
}

const numAcc4 = [1e7 + 0.2, ...Array.from({ length: 1000 }, (_, i) => 1e7 + (i % 2 ? 0.3 : 0.1))];
const response = longley.map((row) => row[0]!);
const columns = Array.from({ length: 6 }, (_, j) => longley.map((row) => row[j + 1]!));
const ones = response.map(() => 1);
const many = new MultivariateLinearRegression(
  longley.map((row) => row.slice(1)),
  response.map((each) => [each]),
).weights.map((row) => row[0]!);
// Instants in seconds: a straight line whose x has nine leading digits in common.
const seconds = Array.from({ length: 100 }, (_, i) => 1.7e9 + i);
const masses = seconds.map((_, i) => 3 + 2 * i + (i % 2 ? 0.5 : -0.5));
const near = seconds.map((x) => x - 1.7e9);
const slope = fitLinearModel(matrixFromColumns([near.map(() => 1), near]), masses).coefficients[1]!;
const values = Array.from({ length: 100_000 }, (_, i) => Math.sin(i * i));

const rows = [
  {
    what: "standard deviation, NumAcc4",
    ours: digits(describe(numAcc4).sd!, 0.1),
    "simple-statistics": digits(sampleStandardDeviation(numAcc4), 0.1),
  },
  {
    what: "regression on six variables, Longley, worst coefficient",
    ours: worst(
      fitLinearModel(matrixFromColumns([ones, ...columns]), response).coefficients as number[],
    ),
    "ml-regression": worst([many[6]!, ...many.slice(0, 6)]),
  },
  {
    what: "slope over instants in seconds",
    ours: digits(
      fitLinearModel(matrixFromColumns([seconds.map(() => 1), seconds]), masses).coefficients[1]!,
      slope,
    ),
    "ml-regression": digits(new SimpleLinearRegression(seconds, masses).slope, slope),
    "simple-statistics": digits(linearRegression(seconds.map((x, i) => [x, masses[i]!])).m, slope),
  },
  {
    what: "normal law below -3",
    ours: digits(normalCumulative(-3), 0.0013498980316300946),
    "simple-statistics": digits(cumulativeStdNormalProbability(-3), 0.0013498980316300946),
  },
  {
    what: "quantile of 100,000 values, ms",
    ours: milliseconds(() => quantile(values, 0.5)),
    "simple-statistics": milliseconds(() => libraryQuantile(values, 0.5)),
  },
  {
    what: "spread and middle of 100,000 values, ms",
    ours: milliseconds(() => describe(values)),
    "simple-statistics": milliseconds(() => {
      sampleStandardDeviation(values);
      median(values);
    }),
  },
];
console.table(rows);
record(
  "libraries",
  { unit: "digits shared with the certified value, at most 15, unless ms" },
  rows,
);
