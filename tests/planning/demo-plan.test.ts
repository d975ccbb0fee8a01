import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { studyUpTo } from "../../src/analysis/study-up-to.js";
import { animalLevels } from "../../src/flags/levels/animal-levels.js";
import { type PlannedDay, planDay } from "../../src/planning/plan-day.js";
import { phasesOf } from "../../src/rates/phases-of.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { notPlain } from "../core/plain-data.js";

const folder = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

/** The demo study is invented; these are laws that hold on any study. */
describe("plans on the demo study", () => {
  let study: Study;
  const planned: { day: PlannedDay; series: StudySeries }[] = [];

  beforeAll(async () => {
    study = await readStudy(folder);
    for (const date of ["2021-06-20", "2022-05-10", "2023-03-12", "2024-07-15"]) {
      const series = buildSeries(studyUpTo(study, date));
      const at = Date.parse(`${date}T22:30Z`);
      planned.push({ day: planDay(series, { at }).value, series });
    }
  });

  it("have animals in care, some planned and some on hold", () => {
    const all = planned.flatMap((p) => p.day.rations);
    expect(all.length).toBeGreaterThan(12);
    for (const status of ["ration", "hold"]) {
      expect(all.some((r) => r.status === status)).toBe(true);
    }
  });

  it("add up to the gram, and show no gram on hold", () => {
    for (const { day } of planned) {
      for (const r of day.rations) {
        const sum = r.feeds.reduce((s, f) => s + f.g, 0);
        expect(r.feeds.every((f) => Number.isInteger(f.g) && f.g >= 0)).toBe(true);
        if (r.status === "ration") expect(sum).toBe(r.totalG);
        else expect([r.feeds.length, r.parts.length, r.totalG]).toEqual([0, 0, null]);
      }
      const fed = day.rations.flatMap((r) => r.feeds.filter((f) => f.kind === "formula"));
      const batches = day.batches.flatMap((b) => b.needs);
      expect(batches.reduce((s, n) => s + n.fedG, 0)).toBe(fed.reduce((s, f) => s + f.g, 0));
      expect(notPlain(day)).toEqual([]);
    }
  });

  it("hold exactly where a reason makes suggestions wait", () => {
    for (const { day, series } of planned) {
      const levels = animalLevels(series, { at: day.madeAt });
      for (const r of day.rations) {
        const own = levels.find((l) => l.animalId === r.animalId)!;
        expect(r.status === "hold").toBe(own.reasons.some((reason) => reason.suggestionsWait));
      }
    }
  });

  it("find the fast after weaning in the seals, and never in the otters", () => {
    const all = buildSeries(study);
    const fasts = (species: string) =>
      all.animals
        .filter((s) => s.animal.species === species)
        .map((s) =>
          phasesOf(s, { settings: all.settings }).value.phases.some(
            (p) => p.phase === "post-weaning fast",
          ),
        );
    const seals = fasts("harbour seal");
    expect(seals.filter(Boolean).length / seals.length).toBeGreaterThan(0.8);
    expect(fasts("sea otter").some(Boolean)).toBe(false);
  });
});
