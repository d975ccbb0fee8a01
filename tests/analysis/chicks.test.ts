import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import type { Result } from "../../src/core/result.js";
import { animalLevels } from "../../src/flags/levels/animal-levels.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { notPlain } from "../core/plain-data.js";

/**
 * Real records that are not ours: body masses of 50 chicks on four diets,
 * Crowder, M. and Hand, D. (1990) Analysis of Repeated Measures, Chapman and
 * Hall (example 5.3), as distributed in R's `datasets` as ChickWeight. The study
 * folder holds weighings only, no feeds.
 */
const folder = fileURLToPath(new URL("../fixtures/chicks", import.meta.url));
const dayMs = 86_400_000;

describe("the whole chain on the 50 chicks of Crowder and Hand", () => {
  let result: Result<"analyse", StudyAnalysis>;
  beforeAll(async () => {
    result = await analyse(await readStudy(folder));
  });

  it("reads all 578 weighings and sets none aside", () => {
    const weighings = result.value.records.counts.find((c) => c.table === "weighings");
    expect(weighings).toMatchObject({ rowsIn: 578, accepted: 578, setAside: 0 });
    expect(result.value.animals).toHaveLength(50);
  });

  it("asks about one weighing of 578: chick 24 at 74 g between 58 and 66", () => {
    const slips = result.value.records.slips.map((s) => [s.animalId, s.weighing.netG]);
    expect(slips).toEqual([["chick-24", 74]]);
  });

  it("gives the mean day 0-21 gains by diet", () => {
    // Means of (mass on day 21 - mass on day 0) / 21 by diet, computed in R from
    // ChickWeight: 6.485119 (n 16), 8.285714 (10), 10.928571 (10), 9.412698 (9).
    // Five chicks have no weighing on day 21 and cannot serve.
    const byDiet = new Map<string, number[]>();
    for (const animal of result.value.animals) {
      const { overall } = animal.gain;
      if (overall === null || Math.abs(overall.days - 21) > 1e-9) continue;
      const diet = animal.season ?? "";
      byDiet.set(diet, [...(byDiet.get(diet) ?? []), overall.gain.value!]);
    }
    const means = [...byDiet.values()]
      .map((gains) => ({ n: gains.length, mean: gains.reduce((a, b) => a + b, 0) / gains.length }))
      .sort((a, b) => a.mean - b.mean);
    expect(means.map((m) => m.n)).toEqual([16, 10, 9, 10]);
    const expected = [6.485119, 8.285714, 9.412698, 10.928571];
    for (const [i, each] of means.entries()) expect(each.mean).toBeCloseTo(expected[i]!, 6);
  });

  it("puts no chick on milk: without a profile and without formula there is no such phase", () => {
    const phases = new Set(result.value.animals.flatMap((a) => a.phases.map((p) => p.phase)));
    expect([...phases].every((p) => p === "after arrival" || p === "arrival")).toBe(true);
    for (const animal of result.value.animals) {
      const came = animal.phases.find((p) => p.phase === "arrival");
      const first = animal.series.daily[0]!;
      const lost = animal.series.daily.some(
        (d) => d.at <= first.at + 7 * dayMs && d.massG < first.massG,
      );
      expect(came !== undefined).toBe(lost);
    }
  });

  it("asks for no temperature of chicks, of which nobody ever took one", () => {
    const { series, records } = result.value;
    const reasons = animalLevels(series, { at: records.end! }).flatMap((l) => l.reasons);
    expect(reasons.length).toBeGreaterThan(0);
    expect(reasons.filter((r) => r.what === "temperature first")).toEqual([]);
  });

  it("says what cannot be computed because feeds are absent", () => {
    expect(result.notices.map((n) => n.code)).toContain("analysis-no-feeds");
    for (const animal of result.value.animals) {
      expect(animal.recentIntake.eatenG.value).toBeNull();
      expect(animal.conversion.value.feedPerGain.asFed.value).toBeNull();
      expect(animal.conversion.value.feedPerGain.asFed.why).toBeDefined();
    }
  });

  it("finds for chick 1 a logistic asymptote that the data do not tell", () => {
    // R's nls on ChickWeight chick 1 with SSlogis: Asym 937.03, SE 465.87, though
    // the last mass is 205 g. The chain leaves the arrival phase out of its curves,
    // so only the verdict is compared here; the numbers stand in tests/truth/nls.
    const first = result.value.animals.find((a) => a.animalId.replace(/^\D*0*/, "") === "1")!;
    const logistic = first.curves.find((c) => c.fit.value.curve === "logistic")!;
    expect(logistic.fit.value.asymptoteIdentified).toBe(false);
  });

  it("is plain data: the same after a round trip through JSON", () => {
    expect(notPlain(result)).toEqual([]);
    expect(JSON.stringify(result)).not.toMatch(/NaN|Infinity/);
  });

  it("looks only at the past when asked for an earlier day", async () => {
    const study = await readStudy(folder);
    const start = [...study.tables.weighings].reduce((a, w) => Math.min(a, w.at), Infinity);
    const day = new Date(start + 12 * dayMs).toISOString().slice(0, 10);
    const end = start + 13 * dayMs;
    const perturbed = {
      ...study,
      tables: {
        ...study.tables,
        weighings: study.tables.weighings.map((w) =>
          w.at > end ? { ...w, massG: w.massG * 3 + 7 } : w,
        ),
      },
    };
    const was = await analyse(study, { onDay: day });
    const is = await analyse(perturbed, { onDay: day });
    expect(was.basis.used).toBeLessThan(study.tables.weighings.length);
    expect(is.value.animals).toEqual(was.value.animals);
    expect(is.value.flags).toEqual(was.value.flags);
  });

  it("says that no weighing could be read where there is none", async () => {
    const study = await readStudy(folder);
    const none = { ...study, tables: { ...study.tables, weighings: [] } };
    await expect(analyse(none)).rejects.toThrow(/at least one weighing that could be read/);
  });
});
