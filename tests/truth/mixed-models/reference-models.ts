import type { LinearMixedData } from "../../../src/stats/linear-mixed/data.js";
import {
  buildDesign,
  type DesignVariable,
  type DesignVariables,
  type FixedDesign,
} from "../../../src/stats/linear-model/design.js";
import { readReferenceText } from "../reference-folder.js";

/**
 * The open data sets of the reference folder and the linear models fitted to
 * them there with nlme and lme4.
 */
export interface Table {
  readonly [column: string]: readonly string[];
}

export function readTable(name: string): Table {
  const lines = readReferenceText(`data/${name}`).trim().split(/\r?\n/);
  const header = lines[0]!.split(",").map((h) => h.replace(/"/g, ""));
  const rows = lines.slice(1).map((l) => l.split(",").map((c) => c.replace(/"/g, "")));
  return Object.fromEntries(header.map((h, j) => [h, rows.map((r) => r[j]!)]));
}

export const numbers = (column: readonly string[] | undefined) => column!.map(Number);
export const filterTable = (t: Table, keep: (i: number) => boolean): Table =>
  Object.fromEntries(Object.entries(t).map(([k, v]) => [k, v.filter((_, i) => keep(i))]));

interface ModelShape {
  readonly data: string;
  readonly response: string;
  readonly group: string;
  readonly terms: readonly (readonly string[])[];
  readonly numbers: readonly string[];
  readonly factors?: Readonly<Record<string, readonly string[] | undefined>>;
  readonly random: readonly string[];
  readonly covariance?: "general" | "diagonal";
  readonly residual?: "power" | "sex" | "serial";
}

const chick = { data: "ChickWeight.csv", response: "weight", group: "Chick" };
const sleep = { data: "sleepstudy.csv", response: "Reaction", group: "Subject" };
const ortho = {
  data: "Orthodont.csv",
  response: "distance",
  group: "Subject",
  terms: [["age"], ["Sex"], ["age", "Sex"]],
  numbers: ["age"],
  factors: { Sex: ["Male", "Female"] },
};
const rats = {
  data: "BodyWeight.csv",
  response: "weight",
  group: "Rat",
  terms: [["Time"], ["Diet"], ["Time", "Diet"]],
  numbers: ["Time"],
  factors: { Diet: undefined },
};
const timeByDiet = {
  terms: [["Time"], ["Diet"], ["Time", "Diet"]],
  numbers: ["Time"],
  factors: { Diet: undefined },
};

export const models: Readonly<Record<string, ModelShape>> = {
  "lme-chick-time-diet-slope": { ...chick, ...timeByDiet, random: ["one", "Time"] },
  "lme-chick-time-diet-int": { ...chick, ...timeByDiet, random: ["one"] },
  "lme-chick-quad-diet-slope": {
    ...chick,
    terms: [["Time"], ["I(Time^2)"], ["Diet"], ["Time", "Diet"], ["I(Time^2)", "Diet"]],
    numbers: ["Time", "I(Time^2)"],
    factors: { Diet: undefined },
    random: ["one", "Time"],
  },
  "lme-sleep-slope": { ...sleep, terms: [["Days"]], numbers: ["Days"], random: ["one", "Days"] },
  "lme-sleep-slope-diag": {
    ...sleep,
    terms: [["Days"]],
    numbers: ["Days"],
    random: ["one", "Days"],
    covariance: "diagonal",
  },
  "lme-sleep-int": { ...sleep, terms: [["Days"]], numbers: ["Days"], random: ["one"] },
  "lme-orthodont-int-sex": { ...ortho, random: ["one"] },
  "lme-orthodont-slope-sex": { ...ortho, random: ["one", "age"] },
  "lme-orthodont-slope-sex-varIdent": { ...ortho, random: ["one", "age"], residual: "sex" },
  "lme-oxboys-slope": {
    data: "Oxboys.csv",
    response: "height",
    group: "Subject",
    terms: [["age"]],
    numbers: ["age"],
    random: ["one", "age"],
  },
  "lme-oxboys-quartic": {
    data: "Oxboys.csv",
    response: "height",
    group: "Subject",
    terms: [["age"], ["I(age^2)"]],
    numbers: ["age", "I(age^2)"],
    random: ["one", "age", "I(age^2)"],
  },
  "lme-ratpup": {
    data: "RatPupWeight.csv",
    response: "weight",
    group: "Litter",
    terms: [["sex"], ["Treatment"], ["Lsize"], ["sex", "Treatment"]],
    numbers: ["Lsize"],
    factors: { sex: ["Male", "Female"], Treatment: ["Control", "Low", "High"] },
    random: ["one"],
  },
  "lme-bodyweight-slope-diet": { ...rats, random: ["one", "Time"] },
  "lme-bodyweight-slope-diet-varPower": { ...rats, random: ["one", "Time"], residual: "power" },
  "lme-bodyweight-slope-diet-CAR1": { ...rats, random: ["one"], residual: "serial" },
  "lme-chick-slope-CAR1": { ...chick, ...timeByDiet, random: ["one"], residual: "serial" },
};

export function variable(table: Table, name: string): number[] {
  const square = name.match(/^I\((\w+)\^2\)$/);
  return square ? numbers(table[square[1]!]).map((v) => v * v) : numbers(table[name]);
}

export function referenceModel(id: string): {
  data: LinearMixedData;
  design: FixedDesign;
  variables: DesignVariables;
} {
  const m = models[id]!;
  const table = readTable(m.data);
  const variables: Record<string, DesignVariable> = {};
  for (const name of m.numbers) variables[name] = { kind: "number", values: variable(table, name) };
  for (const [name, levels] of Object.entries(m.factors ?? {})) {
    variables[name] = {
      kind: "factor",
      values: table[name]!,
      ...(levels === undefined ? {} : { levels }),
    };
  }
  const design = buildDesign(variables, m.terms);
  const n = table[m.response]!.length;
  const one = new Float64Array(n).fill(1);
  const residual =
    m.residual === "power"
      ? { power: {} }
      : m.residual === "sex"
        ? { strata: { of: table["Sex"]!, first: "Female" } }
        : m.residual === "serial"
          ? { serial: { time: numbers(table["Time"]) } }
          : undefined;
  return {
    design,
    variables,
    data: {
      response: numbers(table[m.response]),
      fixed: design,
      levels: [
        {
          name: m.group,
          group: table[m.group]!,
          names: m.random.map((r) => (r === "one" ? "(Intercept)" : r)),
          columns: m.random.map((r) => (r === "one" ? one : variable(table, r))),
          ...(m.covariance === undefined ? {} : { covariance: m.covariance }),
        },
      ],
      ...(residual === undefined ? {} : { residual }),
    },
  };
}
