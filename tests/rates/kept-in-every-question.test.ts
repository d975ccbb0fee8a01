import { describe, expect, it } from "vitest";
import { missingGrams } from "../../src/flags/missing-grams.js";
import { balanceWindows } from "../../src/rates/balance-windows.js";
import { feedConversion } from "../../src/rates/feed-conversion.js";
import { intakeByDay } from "../../src/rates/intake-by-day.js";
import { cameUpOf, keptIntake } from "../../src/rates/kept-intake.js";
import { meanIntake } from "../../src/rates/mean-intake.js";
import { seasonAnimal } from "../../src/seasons/season-animal.js";
import {
  dailyMasses,
  day,
  feedsEvery,
  hour,
  settings,
  smallSeries,
  smallStudySeries,
  start,
} from "./small-study.js";

const days = 30;
const fed = feedsEvery(3, start, start + days * day, { offeredG: 80 });
/** 60 g come up at noon of every day: half an hour after a feed, weighed or not. */
const vomits = (valueText: string, every = 1) =>
  Array.from({ length: days / every }, (_, d) => ({
    at: start + d * every * day + 6.5 * hour,
    kind: "vomit",
    valueText,
  }));
const eatenKcal = 640 * 1.16;
const keptKcal = 580 * 1.16;

const pup = (observations: ReturnType<typeof vomits>) =>
  smallSeries({
    weighings: dailyMasses(days, (d) => 2000 + 30 * d),
    feeds: fed,
    observations,
  });

describe("energy of an animal that brings up 60 of 640 g a day, weighed", () => {
  const series = pup(vomits("60 g"));

  it("is kept less than eaten on each day, and in the mean of days", () => {
    const intake = intakeByDay(series, { settings }).value;
    for (const d of intake.filter((x) => x.complete)) {
      expect(d.eatenG.value).toBe(640);
      expect(d.keptG.value).toBe(580);
      expect(d.kcal.value).toBeCloseTo(eatenKcal, 9);
      expect(d.keptKcal.value).toBeCloseTo(keptKcal, 9);
    }
    const mean = meanIntake(intake);
    expect(mean.kcal.value).toBeCloseTo(eatenKcal, 9);
    expect(mean.keptKcal.value).toBeCloseTo(keptKcal, 9);
  });

  it("goes into the price of a gram as kept, stretch by stretch and day by day", () => {
    const { windows } = balanceWindows(series, { settings });
    expect(windows.length).toBeGreaterThanOrEqual(3);
    for (const w of windows) {
      expect(w.kcalPerD).toBeCloseTo(keptKcal, 6);
      for (const kcal of w.course!.kcal.slice(1)) expect(kcal).toBeCloseTo(keptKcal, 6);
    }
  });

  it("goes into conversion and into a season's energy per gain as kept", () => {
    const { value } = feedConversion(series);
    expect(value.kept.kcal.value).toBeCloseTo(14 * keptKcal, 6);
    expect(value.feedPerGain.energy.value).toBeCloseTo(keptKcal / 30, 6);
    const milk = seasonAnimal(series, settings).phases.find((p) => p.windows > 0)!;
    expect(milk.convertedKcal / milk.convertedGainG).toBeCloseTo(keptKcal / 30, 6);
    expect(milk.kcal).toBeCloseTo(eatenKcal, 6);
  });

  it("takes what came up from the diet of the meal before it", () => {
    const mixed = smallSeries({
      weighings: dailyMasses(3, (d) => 2000 + 30 * d),
      feeds: [
        { at: start + 1 * hour, dietId: "clam", offeredG: 100 },
        { at: start + 10 * hour, dietId: "formula", offeredG: 100 },
      ],
      observations: [{ at: start + 2 * hour, kind: "vomit", valueText: "50 g" }],
    });
    const first = intakeByDay(mixed, { settings }).value[0]!;
    expect(first.keptKcal.value).toBeCloseTo(100 * 1.16 + 50 * 0.82, 9);
  });
});

describe("what came up and was not weighed", () => {
  it("brings no meal up twice", () => {
    const twice = smallSeries({
      feeds: [{ at: start, offeredG: 80 }],
      observations: [1, 2, 3].map((h) => ({
        at: start + h * hour,
        kind: "vomit",
        valueText: h === 3 ? "30 g" : "once",
      })),
    });
    const { cameUpG, times } = keptIntake(twice, start - 1, start + day);
    expect(times).toBe(3);
    expect(cameUpG).toEqual({ low: 30, high: 80, value: null });
    expect(cameUpOf(twice).map((line) => line.of[0]!.mostG)).toEqual([80, 0, 0]);
  });

  it("is not taken for the grams of another kind", () => {
    const beside = smallSeries({
      feeds: [{ at: start, offeredG: 80 }],
      observations: [{ at: start + hour, kind: "stool", valueText: "20 g", notes: "vomited too" }],
    });
    expect(keptIntake(beside, start - 1, start + day).cameUpG).toMatchObject({ low: 0, high: 80 });
  });
});

describe("the missing grams of an animal that eats as the others do and keeps less", () => {
  const ids = ["P1", "P2", "P3", "P4", "P5"];
  const study = (observations: ReturnType<typeof vomits>) =>
    smallStudySeries({
      animals: ids.map((animalId) => ({ animalId, name: animalId })),
      weighingRows: ids.flatMap((animalId, i) =>
        dailyMasses(days, (d) => 2000 + (animalId === "P1" ? 18 : 29 + i / 2) * d).map(
          ([at, massG]) => ({ at, massG, animalId }),
        ),
      ),
      feeds: ids.flatMap((animalId) => fed.map((f) => ({ ...f, animalId }))),
      observations,
    });
  const asked = (observations: ReturnType<typeof vomits>) =>
    missingGrams(study(observations), "P1", { from: "2025-05-15", to: "2025-05-29" }).value;

  it("are put to what it kept", () => {
    const none = asked([]);
    const weighed = asked(vomits("60 g"));
    expect(none.own.keptKcalPerDay!.value).toBeCloseTo(eatenKcal, 6);
    expect(weighed.own.keptKcalPerDay!.value).toBeCloseTo(keptKcal, 6);
    expect(weighed.expected.keptKcalPerDay).toBeCloseTo(none.expected.keptKcalPerDay!, 9);
    expect(weighed.missing.value).toBe(none.missing.value);
    expect(weighed.fromIntake.value!).toBeGreaterThan(none.fromIntake.value!);
  });

  it("hold both ends where it was not weighed, and are not split where those lie far apart", () => {
    const none = asked([]);
    const some = asked(vomits("once", 5));
    const { low, high } = some.own.keptKcalPerDay!;
    // Two or three meals of 240 g in 14 days, from none to all.
    expect(high).toBeCloseTo(eatenKcal, 6);
    expect(low).toBeLessThan(high! - 30);
    const width = (m: typeof some.fromIntake) => m.interval!.upper! - m.interval!.lower!;
    expect(width(some.fromIntake)).toBeGreaterThan(width(none.fromIntake));
    expect(width(some.rest)).toBeGreaterThan(width(none.rest));
    const daily = asked(vomits("once"));
    expect(daily.own.keptKcalPerDay).toBeNull();
    expect(daily.fromIntake.value).toBeNull();
    expect(daily.fromIntake.why!.code).toBe("missing-grams-no-intake");
  });
});
