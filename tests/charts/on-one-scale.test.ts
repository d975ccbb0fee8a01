import { expect, it } from "vitest";
import { intervalChart } from "../../src/charts/interval-chart.js";
import { onOneScale } from "../../src/charts/on-one-scale.js";
import { unlikeScales } from "../look/unlike-scales.js";

const axis = "Gain over 7 days (% of body mass a day)";
const of = (species: string, value: number) => ({
  title: `Relative gain, ${species}`,
  valueTitle: axis,
  of: "animal",
  intervalIs: "95 % interval",
  rows: [{ name: "Mica", value, lower: value - 1, upper: value + 1 }],
});
const animals = [
  { animalId: "P1", name: "Mica", species: "sea otter" },
  { animalId: "P2", name: "Osk", species: "harbour seal" },
];

it("gives pictures of one quantity one scale that holds them all", () => {
  const apart = [intervalChart(of("sea otter", 1)), intervalChart(of("harbour seal", 6))];
  expect(unlikeScales(apart, animals)).toHaveLength(1);
  const together = onOneScale(axis, [
    (options) => intervalChart(of("sea otter", 1), options),
    (options) => intervalChart(of("harbour seal", 6), options),
  ]);
  expect(unlikeScales(together, animals)).toEqual([]);
  // From 0 to 7 %/d with a little room, the ends of both intervals inside.
  const scales = JSON.stringify(together[0]!.spec).match(/"domain":\[[^\]]*\]/g)!;
  const [low, high] = JSON.parse(scales[0]!.replace('"domain":', "")) as [number, number];
  expect(low).toBeLessThanOrEqual(0);
  expect(low).toBeGreaterThan(-1);
  expect(high).toBeGreaterThanOrEqual(7);
  expect(high).toBeLessThan(8);
});

it("leaves a picture alone where it stands alone", () => {
  const [alone] = onOneScale(axis, [(options) => intervalChart(of("sea otter", 1), options)]);
  expect(alone).toEqual(intervalChart(of("sea otter", 1)));
});
