import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { contemporaries } from "../../src/reference/contemporaries.js";
import { gainZ, weightForAgeZ } from "../../src/reference/z-scores.js";
import { groupZ } from "../../src/stats/descriptive/group-z.js";
import { addDays, localNoon } from "../../src/units/calendar.js";
import { healthyStudy, inventedSeries, inventedStudy, origin } from "../flags/invented-study.js";

const grows = (start: number, n: number, rate = 0.01) =>
  Array.from({ length: n }, (_, i) => start * Math.exp(rate * i));

describe("contemporaries", () => {
  const study = inventedStudy([
    inventedSeries({ id: "own", birth: "2031-03-01", masses: grows(2000, 40) }),
    inventedSeries({ id: "near", birth: "2031-03-10", masses: grows(2000, 40) }),
    inventedSeries({ id: "far", birth: "2031-03-16", masses: grows(2000, 40) }),
    inventedSeries({
      id: "other",
      birth: "2031-03-01",
      species: "harbour seal",
      masses: grows(9000, 40),
    }),
    inventedSeries({
      id: "past",
      birth: "2030-03-01",
      masses: grows(2000, 60),
      outcome: "released",
      outcomeDate: "2030-05-10",
    }),
    inventedSeries({
      id: "dead",
      birth: "2030-03-01",
      masses: grows(2000, 10),
      outcome: "died",
      outcomeDate: "2030-03-11",
    }),
    inventedSeries({
      id: "unsure",
      birth: "2031-03-01",
      ageReliable: false,
      masses: grows(2000, 40),
    }),
  ]);

  it("are of the same species, in care that day, within 14 d of age, itself excluded", () => {
    const group = contemporaries(study, "own", { onDay: "2031-04-05" });
    expect(group.members.map((m) => m.animalId)).toEqual(["near"]);
    expect(group.leftOut).toEqual([
      { reason: "age too different", count: 1 },
      { reason: "age not reliable", count: 1 },
    ]);
  });

  it("take earlier seasons when asked, at the nearest age, and tell of the dead", () => {
    const group = contemporaries(study, "own", { onDay: "2031-04-05", earlierSeasons: true });
    expect(group.members.map((m) => m.animalId)).toEqual(["near", "past"]);
    expect(group.members[1]!.ageD).toBe(group.own!.ageD);
    expect(group.notices.find((n) => n.code === "contemporaries-survivors")?.parameters).toEqual({
      n: 2,
      died: 1,
    });
  });

  it("are chosen by mass within 20 % where the age is unreliable, without weight-for-age", () => {
    const group = contemporaries(study, "unsure", { onDay: "2031-04-05" });
    expect(group.matchedBy).toBe("mass");
    expect(group.members.map((m) => m.animalId)).toEqual(["own", "near", "far"]);
    const z = weightForAgeZ(group, study.animals[6]!.age);
    expect(z.z.value).toBeNull();
    expect(z.z.why?.code).toBe("z-age-circular");
  });

  it("leave out the 7 days after treatment, and the days before it only where it is past", () => {
    const ill = (day: string) => ({
      animalId: "near",
      at: localNoon(day, "UTC"),
      kind: "medication" as const,
      value: null,
      valueText: null,
      unit: null,
      notes: null,
      origin,
    });
    const withIllness = (day: string, past: boolean) =>
      inventedStudy([
        study.animals[0]!,
        inventedSeries({
          id: "near",
          birth: past ? "2030-03-01" : "2031-03-01",
          masses: grows(2000, 40),
          observations: [ill(day)],
          ...(past ? { outcome: "released" as const, outcomeDate: "2030-05-10" } : {}),
        }),
      ]);
    const n = (day: string, past = false) =>
      contemporaries(withIllness(day, past), "own", { onDay: "2031-04-05", earlierSeasons: past })
        .n;
    expect(n("2031-03-29")).toBe(0);
    expect(n("2031-03-28")).toBe(1);
    expect(n("2031-04-07")).toBe(1); // the future of a current season is not known yet
    expect(n("2030-04-07", true)).toBe(0);
    expect(n("2030-04-09", true)).toBe(1);
  });

  it("leave out the last 14 days before a death of an earlier season", () => {
    const died = (day: string) =>
      contemporaries(
        inventedStudy([
          study.animals[0]!,
          inventedSeries({
            id: "lost",
            birth: "2030-03-01",
            masses: grows(2000, 60),
            outcome: "died",
            outcomeDate: day,
          }),
        ]),
        "own",
        { onDay: "2031-04-05", earlierSeasons: true },
      ).n;
    expect(died("2030-04-19")).toBe(0);
    expect(died("2030-04-20")).toBe(1);
  });

  it("do not move when the future does", () => {
    const whole = healthyStudy(12, 40, 20310301);
    const day = addDays("2031-03-15", 12);
    const cut = inventedStudy(
      whole.animals.map((a) => ({
        ...a,
        daily: a.daily.map((d) => (d.feedingDay > day ? { ...d, massG: d.massG * 3 } : d)),
      })),
    );
    expect(contemporaries(cut, "P03", { onDay: day })).toEqual(
      contemporaries(whole, "P03", { onDay: day }),
    );
  });

  it("refuse an unknown animal in words", () => {
    expect(() => contemporaries(study, "nobody")).toThrow(/"nobody" is not one of its 7 animals/);
  });
});

describe("z against contemporaries", () => {
  it("is the modified z-score from 8 contemporaries on", () => {
    // Iglewicz and Hoaglin (1993) on ten values: median 2.45, MAD 0.15, M(8.3) = 26.3055 with 0.6745;
    // here 1/1.4826 stands for 0.6745 (ratio 0.67449/0.6745).
    const z = groupZ(8.3, [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3]);
    expect(z.z! * 1.4826 * 0.6745).toBeCloseTo(26.3055, 4);
  });

  it("keeps its error rate below 8, where the naive z names five times too many", () => {
    // Tail of a new normal value beyond -2 is 2.275 % by definition; checked at n = 3, 5 and 7
    // with 40,000 draws (seed 51), within 4 Monte Carlo standard errors.
    for (const n of [3, 5, 7]) {
      const random = seededRandom(51 + n);
      let named = 0;
      let naive = 0;
      const draws = 40_000;
      for (let i = 0; i < draws; i++) {
        const others = Array.from({ length: n }, () => random.normal());
        const x = random.normal();
        if (groupZ(x, others).z! <= -2) named++;
        const centre = others.slice().sort((a, b) => a - b)[(n - 1) / 2]!;
        const mad = others.map((v) => Math.abs(v - centre)).sort((a, b) => a - b)[(n - 1) / 2]!;
        if ((x - centre) / (1.4826 * mad) <= -2) naive++;
      }
      const p = 0.0227501;
      expect(Math.abs(named / draws - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / draws));
      expect(naive / draws).toBeGreaterThan(3 * p);
    }
  });

  it("gives no z from two contemporaries or from contemporaries without spread", () => {
    expect(groupZ(1, [2, 3])).toEqual({ z: null, why: "too few" });
    expect(groupZ(1, [2, 2, 2])).toEqual({ z: null, why: "no spread" });
    expect(groupZ(1, Array(9).fill(5))).toEqual({ z: null, why: "no spread" });
  });

  it("does not name an animal for being younger", () => {
    // All grow alike at 1 %/d from the same mass at birth; the youngest is 12 d behind.
    const random = seededRandom(7);
    const animals = Array.from({ length: 10 }, (_, i) =>
      inventedSeries({
        id: `A${i}`,
        birth: addDays("2031-03-01", i),
        masses: grows(2000 * Math.exp(0.02 * random.normal()), 40),
      }),
    );
    const young = inventedSeries({ id: "young", birth: "2031-03-13", masses: grows(2000, 28) });
    const study = inventedStudy([...animals, young]);
    const z = weightForAgeZ(contemporaries(study, "young", { onDay: "2031-04-09" }), young.age);
    expect(Math.abs(z.z.value!)).toBeLessThan(1.5);
    expect(z.centre! / z.own!).toBeCloseTo(1, 1);
  });

  it("tells both ends of a wide birth range", () => {
    const study = healthyStudy(10, 40, 3);
    const wide = { ...study.animals[0]!.age, rangeDays: 8 };
    const z = weightForAgeZ(contemporaries(study, "P01", { onDay: "2031-04-10" }), wide);
    expect(z.zAtEnds).not.toBeNull();
    expect(z.zAtEnds![0]).toBeLessThan(z.z.value!);
    expect(z.zAtEnds![1]).toBeGreaterThan(z.z.value!);
  });

  it("finds the animal that gains half as much", () => {
    const healthy = healthyStudy(12, 30, 99);
    const slow = inventedSeries({
      id: "slow",
      birth: "2031-03-05",
      firstAge: 5,
      masses: grows(1900, 30, 0.002),
    });
    const study = inventedStudy([...healthy.animals, slow]);
    const z = gainZ(contemporaries(study, "slow", { onDay: "2031-04-06" }));
    expect(z.z.value!).toBeLessThan(-2);
    expect(z.n).toBe(12);
  });
});
