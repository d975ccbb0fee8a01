import type { Result } from "../../core/result.js";
import type { MissingGrams } from "../../flags/missing-grams.js";
import { formatNumber } from "../../units/format.js";
import { type Table, table } from "../section.js";

/** The grams an animal is missing: what its intake predicts, and the rest, which is never split. */
export function missingGramsTable(result: Result<"missing-grams", MissingGrams>): Table {
  const { value: v } = result;
  const perDay = (x: number | null) => (x === null ? "not known" : `${formatNumber(x, 3)} kcal/d`);
  return table(
    "missing-grams",
    `${v.animalId}, ${v.from} to ${v.to}, against ${v.contemporaries.length} contemporaries. Illness lowers intake too, so the first part is no cause. The second part is what remains: conversion, losses, illness, unrecorded feed and wrong diet values are candidates and are not told apart.`,
    [
      { title: "Part" },
      { title: "Grams", align: "number", digits: 3 },
      { title: "What it stands against" },
    ],
    [
      [
        "Missing in all",
        v.missing,
        `its own gain of ${formatNumber(v.own.gainG, 3)} g against ${formatNumber(v.expected.gainG, 3)} g expected of an animal of its size at their mean relative gain`,
      ],
      [
        "Predicted by what it ate",
        v.fromIntake,
        `its own ${perDay(v.own.kcalPerDay)} against ${perDay(v.expected.kcalPerDay)} at their intake for its size, at their average gain per kcal; maintenance is paid first, so a shortfall may cost more than this`,
      ],
      [
        "The rest",
        v.rest,
        "gain different from what was eaten for, at their average gain per kcal",
      ],
    ],
  );
}
