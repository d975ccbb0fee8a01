import { seededRandom } from "../../src/core/random.js";
import { castOf } from "./cast.js";
import { writeTable } from "./demo-table.js";
import { dataPackage, studySettings } from "./describe-tables.js";
import { dietTable } from "./diets.js";
import { Kitchen } from "./kitchen.js";
import { type Life, live } from "./life.js";
import { observationTable } from "./observe.js";
import { animalTable, eventTable, feedTable, housingTable, planTable } from "./pages.js";
import { makeSlips } from "./slips.js";
import { truthOf } from "./truth.js";
import { scaleCheckRows, weighingRows } from "./weigh.js";

/** The one seed of the demo study. */
export const DEMO_SEED = 20261125;

/** All lives of the study, and the same lives without the effect of the second mixture. */
export function demoLives(seed: number): {
  readonly lives: readonly Life[];
  readonly withoutEffect: readonly Life[];
  readonly kitchen: Kitchen;
} {
  const cast = castOf(seed);
  const kitchen = new Kitchen(seededRandom(seed).split(17));
  const other = new Kitchen(seededRandom(seed).split(17));
  return {
    lives: cast.map((c) => live(c, seed, kitchen, true)),
    withoutEffect: cast.map((c) => live(c, seed, other, false)),
    kitchen,
  };
}

/** The files of the demo study: name and text, the same bytes for the same seed. */
export function demoStudy(seed: number = DEMO_SEED): ReadonlyMap<string, string> {
  const { lives, withoutEffect, kitchen } = demoLives(seed);
  const { batches, ingredients } = kitchen.tables();
  const tables = [
    animalTable(lives),
    weighingRows(lives, seed),
    scaleCheckRows(lives, seed),
    feedTable(lives, seed),
    planTable(lives, seed),
    dietTable(),
    batches,
    ingredients,
    housingTable(lives),
    observationTable(lives, seed),
    eventTable(),
  ];
  makeSlips(Object.fromEntries(tables.map((t) => [t.name, t])));
  const written = tables.map((t) => ({ name: t.name, ...writeTable(t) }));
  return new Map([
    ["study.json", json(studySettings())],
    ["datapackage.json", json(dataPackage(tables))],
    ...written.map((w): [string, string] => [`${w.name}.csv`, w.text]),
    [
      "truth.json",
      json(
        truthOf(
          lives,
          withoutEffect,
          written.flatMap((w) => w.slips),
        ),
      ),
    ],
  ]);
}

function json(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
