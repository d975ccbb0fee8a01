import type { MeanFunction, NonlinearMixedData } from "../../../src/stats/nonlinear-mixed/model.js";
import { filterTable, numbers, readTable, type Table } from "./reference-models.js";

/** The mean functions of the reference (as R names them) and the models fitted with them. */
export const logisticMean: MeanFunction = (x, p, out, at) => {
  const e = Math.exp((p[1]! - x) / p[2]!);
  const s = 1 / (1 + e);
  out[at] = s;
  out[at + 1] = (-p[0]! * e * s * s) / p[2]!;
  out[at + 2] = (p[0]! * e * s * s * (p[1]! - x)) / (p[2]! * p[2]!);
  return p[0]! * s;
};
export const asymptoticMean: MeanFunction = (x, p, out, at) => {
  const k = Math.exp(p[2]!);
  const e = Math.exp(-k * x);
  out[at] = 1 - e;
  out[at + 1] = e;
  out[at + 2] = (p[0]! - p[1]!) * e * k * x;
  return p[0]! + (p[1]! - p[0]!) * e;
};
export const gompertzMean: MeanFunction = (x, p, out, at) => {
  const b = p[2]! ** x;
  const e = Math.exp(-p[1]! * b);
  out[at] = e;
  out[at + 1] = -p[0]! * e * b;
  out[at + 2] = (-p[0]! * e * p[1]! * b * x) / p[2]!;
  return p[0]! * e;
};

interface Shape {
  readonly table: () => Table;
  readonly x: string;
  readonly y: string;
  readonly group: string;
  readonly mean: MeanFunction;
  readonly parameters: readonly string[];
  readonly random: readonly string[];
  readonly starts: readonly number[][];
  readonly diagonal?: boolean;
  readonly by?: { readonly column: string; readonly parameters: readonly string[] };
  readonly power?: boolean;
  readonly serial?: boolean;
}
const logis = { mean: logisticMean, parameters: ["Asym", "xmid", "scal"] };
const asymp = { mean: asymptoticMean, parameters: ["Asym", "R0", "lrc"] };
const orange = {
  ...logis,
  table: () => readTable("Orange.csv"),
  x: "age",
  y: "circumference",
  group: "Tree",
  starts: [[190, 720, 345]],
};
const soy = {
  ...logis,
  table: () => readTable("Soybean.csv"),
  x: "Time",
  y: "weight",
  group: "Plot",
  starts: [[18, 52, 7]],
};
const soy90 = {
  ...soy,
  table: () => {
    const t = readTable("Soybean.csv");
    return filterTable(t, (i) => t["Year"]![i] === "1990");
  },
};
const chick = {
  ...logis,
  table: () => readTable("ChickWeight.csv"),
  x: "Time",
  y: "weight",
  group: "Chick",
  starts: [[350, 15, 7]],
};
const diet = { column: "Diet", parameters: ["Asym"] };

export const nonlinearShapes: Readonly<Record<string, Shape>> = {
  "nlme-orange-logistic-Asym": { ...orange, random: ["Asym"] },
  "nlme-orange-logistic-Asym-xmid-diag": { ...orange, random: ["Asym", "xmid"], diagonal: true },
  "nlme-orange-logistic-Asym-CAR1": { ...orange, random: ["Asym"], serial: true },
  "nlme-loblolly-asymp-Asym": {
    ...asymp,
    table: () => readTable("Loblolly.csv"),
    x: "age",
    y: "height",
    group: "Seed",
    random: ["Asym"],
    starts: [[103, -8.5, -3.3]],
  },
  "nlme-soy1990-logistic-Asym-xmid": { ...soy90, random: ["Asym", "xmid"] },
  "nlme-soy1990-logistic-Asym-varPower": { ...soy90, random: ["Asym"], power: true },
  "nlme-soy1990-logistic-variety-varPower": {
    ...soy90,
    random: ["Asym"],
    power: true,
    by: { column: "Variety", parameters: ["Asym"] },
  },
  "nlme-soyAll-logistic-Asym-varPower": { ...soy, random: ["Asym"], power: true },
  "nlme-chick-logistic-Asym-xmid": { ...chick, random: ["Asym", "xmid"] },
  "nlme-chick-logistic-Asym-xmid-diet": { ...chick, random: ["Asym", "xmid"], by: diet },
  "nlme-chick-logistic-Asym-xmid-diet-varPower": {
    ...chick,
    random: ["Asym", "xmid"],
    by: diet,
    power: true,
  },
  "nlme-chick-logistic-Asym-xmid-CAR1": { ...chick, random: ["Asym", "xmid"], serial: true },
  "nlme-chick-gompertz-Asym": {
    ...chick,
    mean: gompertzMean,
    parameters: ["Asym", "b2", "b3"],
    random: ["Asym"],
    starts: [[500, 3, 0.93]],
  },
  "nlme-rats-asymp-Asym-R0-diet": {
    ...asymp,
    table: () => readTable("BodyWeight.csv"),
    x: "Time",
    y: "weight",
    group: "Rat",
    random: ["Asym", "R0"],
    by: { column: "Diet", parameters: ["Asym", "R0"] },
    starts: [[290, 250, -3.5]],
  },
};

export function nonlinearModel(id: string): {
  data: NonlinearMixedData;
  starts: readonly number[][];
} {
  const s = nonlinearShapes[id.replace(/-(RE)?ML$/, "")]!;
  const t = s.table();
  const levels = s.by === undefined ? [] : [...new Set(t[s.by.column])].sort();
  return {
    starts: s.starts,
    data: {
      x: numbers(t[s.x]),
      response: numbers(t[s.y]),
      group: t[s.group]!,
      mean: s.mean,
      parameters: s.parameters,
      random: s.random,
      covariance: s.diagonal ? "diagonal" : "general",
      covariates: (s.by?.parameters ?? []).flatMap((parameter) =>
        levels.slice(1).map((level) => ({
          parameter,
          name: `${s.by!.column}${level}`,
          values: t[s.by!.column]!.map((v) => (v === level ? 1 : 0)),
        })),
      ),
      ...(s.power || s.serial
        ? {
            residual: {
              ...(s.power ? { power: {} } : {}),
              ...(s.serial ? { serial: { time: numbers(t[s.x]) } } : {}),
            },
          }
        : {}),
    },
  };
}
