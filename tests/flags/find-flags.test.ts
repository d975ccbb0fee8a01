import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { findFlags } from "../../src/flags/find-flags.js";
import { addDays } from "../../src/units/calendar.js";
import { healthyStudy, inventedSeries, inventedStudy } from "./invented-study.js";

const healthy = healthyStudy(12, 40, 20310302);
const grows = (start: number, n: number, rate: number) =>
  Array.from({ length: n }, (_, i) => start * Math.exp(rate * i));
const slow = inventedSeries({
  id: "slow",
  birth: "2031-03-05",
  firstAge: 5,
  masses: grows(1300, 30, -0.002),
});
const falls = inventedSeries({
  id: "falls",
  birth: "2031-03-05",
  firstAge: 5,
  masses: [...grows(1900, 28, 0.01), 2400, 2300],
});
const unweighed = inventedSeries({
  id: "unweighed",
  birth: "2031-03-05",
  firstAge: 5,
  masses: grows(1900, 5, 0.01),
});
const study = inventedStudy([...healthy.animals, slow, falls, unweighed]);
const onDay = "2031-04-08";

describe("the flags of one day", () => {
  const result = findFlags(study, { onDay });
  const of = (id: string) => result.value.animals.find((a) => a.animalId === id)!;

  it("say how far they are while they are worked out, and stop when they are told to", () => {
    const told: { done: number; total: number; doing: string }[] = [];
    findFlags(study, { onDay, onProgress: (progress) => told.push(progress) });
    const weighings = told.filter(({ doing }) => doing.startsWith("weighings of"));
    expect(weighings.length).toBeGreaterThan(10);
    expect(new Set(weighings.map(({ total }) => total)).size).toBe(1);
    expect(weighings.map(({ done }) => done)).toEqual(
      weighings.map(({ done }) => done).sort((a, b) => a - b),
    );
    for (const { done, total } of told) expect(done).toBeLessThanOrEqual(total);
    const stop = new AbortController();
    let heard = 0;
    const stopped = () =>
      findFlags(study, {
        onDay,
        signal: stop.signal,
        onProgress: () => {
          heard++;
          if (heard === 3) stop.abort();
        },
      });
    expect(stopped).toThrow(/abort/i);
    expect(heard).toBe(3);
  });

  it("list every animal in care once, worst first", () => {
    expect(result.value.animals).toHaveLength(15);
    expect(new Set(result.value.animals.map((a) => a.animalId)).size).toBe(15);
    const { flagged, notFlagged, notJudged } = result.value.counts;
    expect(flagged + notFlagged + notJudged).toBe(15);
    const severities = result.value.animals
      .filter((a) => a.status === "flagged")
      .map((a) => a.severity);
    expect(severities).toEqual(severities.slice().sort((a, b) => b - a));
  });

  it("name the slow gainer by level and gain, with the numbers", () => {
    const kinds = of("slow").raised.map((s) => s.kind);
    expect(kinds).toContain("level");
    expect(kinds).toContain("no gain");
    const gain = [...of("slow").raised, ...of("slow").within].find((s) => s.kind === "gain")!;
    expect(gain.evidence.gainPctPerD).toBeCloseTo(-0.2, 2);
    expect(noticeText(gain.sentence)).toMatch(/slow gained -0\.2/);
  });

  it("name the loss from the recent peak", () => {
    expect(of("falls").status).toBe("flagged");
    const { raised, within } = of("falls");
    const loss = [...raised, ...within].find((s) => s.kind === "loss from peak")!;
    // Peak is the weighing two days before: 1900 exp(0.27) = 2488.9 g; (2488.9 - 2300)/2488.9 = 7.59 %.
    expect(loss.evidence.lossPct).toBeCloseTo(100 * (1 - 2300 / (1900 * Math.exp(0.27))), 9);
    expect(loss.evidence.peakG).toBeCloseTo(2488.9, 1);
  });

  it("say not judged, and why, where there is no recent weighing", () => {
    expect(of("unweighed").status).toBe("not judged");
    expect(of("unweighed").notJudged.length).toBeGreaterThanOrEqual(3);
    expect(of("unweighed").notJudged.every((n) => noticeText(n.why).length > 10)).toBe(true);
  });

  it("never call an animal healthy", () => {
    for (const animal of result.value.animals) {
      expect(noticeText(animal.sentence)).not.toMatch(/\bis healthy|\bfine\b|\bwell\b/i);
    }
    expect(result.notices.map((n) => n.code)).toContain("flags-no-diagnosis");
  });

  it("do not move when the future does", () => {
    const day = addDays(onDay, -6);
    const perturbed = inventedStudy(
      study.animals.map((a) => ({
        ...a,
        daily: a.daily.map((d) => (d.feedingDay > day ? { ...d, massG: d.massG * 0.5 } : d)),
      })),
    );
    expect(findFlags(perturbed, { onDay: day }).value).toEqual(
      findFlags(study, { onDay: day }).value,
    );
  });

  it("know the arrival and the fast", () => {
    const arriving = findFlags(study, {
      onDay,
      phaseOn: (id) => (id === "slow" ? "arrival" : "milk"),
    }).value.animals.find((a) => a.animalId === "slow")!;
    expect(arriving.raised.map((s) => s.kind)).not.toContain("gain");
    expect(arriving.notJudged.map((s) => s.why.code)).toContain("flag-phase-arrival");
    const fasting = findFlags(study, {
      onDay,
      phaseOn: (id) => (id === "falls" ? "post-weaning fast" : "milk"),
    }).value.animals.find((a) => a.animalId === "falls")!;
    expect(fasting.notJudged.map((s) => s.why.code)).toContain("flag-phase-fast");
  });

  it("are plain data", () => {
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });
});

describe("the method told with the flags", () => {
  it("names the budget, the thresholds and the run lengths they would have if surprises were independent", () => {
    const { method } = findFlags(study, { onDay, falseFlagsPer100AnimalWeeks: 1 });
    const lengths = method.options["runLengthsIfIndependent"] as { average: number; sum: number };
    // Exact run lengths grow steeply with the limit: CUSUM k 0.5 h 5 one-sided is 930.9 (Montgomery's
    // two-sided 465), and thresholds here lie above h 5, EWMA limits near or above 3.
    expect(lengths.sum).toBeGreaterThan(930);
    expect(lengths.average).toBeGreaterThan(500);
    expect(method.options["falseFlagsPer100AnimalWeeks"]).toBe(1);
  });

  it("refuses a budget it was not calibrated for", () => {
    expect(() => findFlags(study, { onDay, falseFlagsPer100AnimalWeeks: 50 })).toThrow(
      /between 0.5 and 10/,
    );
  });
});
