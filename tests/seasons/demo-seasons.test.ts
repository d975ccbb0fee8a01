import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { compareSeasons } from "../../src/seasons/compare-seasons.js";
import { describeMilestones } from "../../src/seasons/describe-milestones.js";
import { seasonCurves } from "../../src/seasons/season-curves.js";
import { summariseSeasons } from "../../src/seasons/summarise-seasons.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { notPlain } from "../core/plain-data.js";
import { demoTruth } from "../data-demo/demo-files.js";

/** The seasons room on the fixture demo, four whole seasons, against what is true of it. */
const folder = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));
const truth = demoTruth(folder);
let study: StudySeries;
let summed: ReturnType<typeof summariseSeasons> | null = null;
/** All groups, summed up once for those who look at them. */
const summary = () => (summed ??= summariseSeasons(study));

beforeAll(async () => {
  study = buildSeries(await readStudy(folder));
});

describe("comparing the seasons of the demo study", () => {
  const { from, to } = truth.betterSeason.windowAgeD;
  const run = () =>
    compareSeasons(study, {
      species: "sea otter",
      window: { fromAgeD: from, toAgeD: to },
      runs: 0,
      protocolChanges: [{ season: "2023", what: "second formula mixture" }],
    });

  it("measures each animal's gain as it truly was, the drifting scale aside", () => {
    const gains = new Map(run().value.animals.map((a) => [a.animalId, a.gain]));
    const drifting = truth.slowGainers.find((s) => s.cause === "scale drifts")!.animal;
    let n = 0;
    for (const t of truth.animals) {
      const gain = gains.get(t.animal);
      if (gain === undefined || t.gainInWindowGPerD === null || t.animal === drifting) continue;
      // A regression over a curved or broken line is not the difference of its ends.
      expect(Math.abs(gain - t.gainInWindowGPerD)).toBeLessThan(0.15 * t.gainInWindowGPerD + 3);
      n++;
    }
    expect(n).toBeGreaterThan(18);
  });

  it("covers the true effect of the changed season in its intervals against the others", () => {
    const effect =
      truth.betterSeason.trueMeanGain.gPerD - truth.betterSeason.sameAnimalsWithoutTheEffect.gPerD;
    for (const pair of run().value.pairs) {
      const sign = pair.to === "2023" ? 1 : pair.from === "2023" ? -1 : 0;
      if (sign === 0) continue;
      const { lower, upper } = pair.difference.interval!;
      expect(sign * effect).toBeGreaterThan(lower!);
      expect(sign * effect).toBeLessThan(upper!);
    }
  });

  it("claims no cause and says that season and protocol cannot be told apart", () => {
    const text = run()
      .value.sentences.map((s) => noticeText(s))
      .join("\n");
    expect(text).toMatch(/protocol cannot be told from season/);
    expect(text).toMatch(/No cause is claimed/);
    // A missing parameter would show as a bare question mark.
    expect(text).not.toMatch(/(^|\s)\?/);
  });

  it("gives the two models' views alike", () => {
    const { pairs, mixed } = run().value;
    expect(mixed!.status).toBe("converged");
    mixed!.pairs.forEach((m, i) => {
      expect(Math.abs(m.difference - pairs[i]!.difference.value!)).toBeLessThan(1.5);
    });
  });
});

describe("summing up the demo study", () => {
  it("has every group with n, spread and what is missing", () => {
    const { groups, animals } = summary().value;
    expect(groups).toHaveLength(8);
    expect(animals).toHaveLength(46);
    expect(groups.reduce((s, g) => s + g.n, 0)).toBe(46);
    for (const g of groups) {
      expect(g.arrivalMass.n).toBe(g.n);
      expect(g.arrivalMass.sd).toBeGreaterThan(0);
      for (const p of g.phases) if (p.gain.mean !== null) expect(p.gain.n).toBeGreaterThan(0);
      expect(g.outcomes.reduce((s, o) => s + o.n, 0)).toBe(g.n);
      expect(g.missing.feeds).toBeGreaterThan(1000);
    }
  });

  it("sees the fast of the seals as loss and the conversion of the otters within what is built in", () => {
    const { groups } = summariseSeasons(study, { by: ["species"] }).value;
    const seals = groups.find((g) => g.group.species === "harbour seal")!;
    expect(seals.phases.find((p) => p.phase === "post-weaning fast")!.gain.mean).toBeLessThan(0);
    const otters = groups.find((g) => g.group.species === "sea otter")!;
    const mixed = otters.phases.find((p) => p.phase === "mixed")!;
    // About 5 x 70 kg^0.75 kcal/d for upkeep at 3-6 kg and 40-60 g/d: some 17-30 kcal per g gained.
    expect(mixed.energyPerGain.value).toBeGreaterThan(15);
    expect(mixed.energyPerGain.value).toBeLessThan(32);
  });

  it("groups animals anew without reading them again", () => {
    const first = summary().value;
    const again = summariseSeasons(study, { by: ["species", "sex"], animals: first.animals }).value;
    expect(again.animals).toBe(first.animals);
    expect(again.groups.reduce((s, g) => s + g.n, 0)).toBe(46);
    const one = again.groups[0]!;
    expect(one.group).toEqual({ species: "harbour seal", sex: "female" });
  });

  it("can be cancelled", () => {
    expect(() => summariseSeasons(study, { signal: AbortSignal.abort() })).toThrow();
  });
});

describe("every result", () => {
  it("is plain data: it survives being written and read", () => {
    const window = { fromAgeD: 21, toAgeD: 84 };
    for (const result of [
      summary(),
      compareSeasons(study, {
        species: "harbour seal",
        window: { fromAgeD: 12, toAgeD: 27 },
        runs: 99,
      }),
      describeMilestones(study, { species: "sea otter" }),
      seasonCurves(study, { species: "sea otter", window }),
    ]) {
      expect(notPlain(result)).toEqual([]);
    }
  });
});

describe("milestones of the demo study", () => {
  it("have medians within a week and a half of the true ones", () => {
    for (const species of ["sea otter", "harbour seal"]) {
      const { milestones } = describeMilestones(study, { species }).value;
      expect(milestones.length).toBeGreaterThan(4);
      for (const m of milestones) {
        const ages = truth.animals
          .filter((t) => m.times.some((x) => x.animalId === t.animal))
          .map((t) =>
            m.milestone === "first solid" ? t.firstSolidAgeD : t.milestoneAgeD[m.milestone]!,
          )
          .sort((a, b) => a - b);
        const trueMedian = ages[Math.floor(ages.length / 2)]!;
        // Voluntary weighings begin when the platform is first walked on, not when it is first possible.
        if (m.milestone === "voluntary platform weighing") continue;
        expect(Math.abs(m.median!.from - trueMedian), m.milestone).toBeLessThan(10);
        expect(m.turnbull.converged).toBe(true);
      }
    }
  });
});
