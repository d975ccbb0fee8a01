import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { compareSeasons } from "../../src/seasons/compare-seasons.js";
import { windowOfStudy } from "../../src/seasons/window-of-study.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { madeStudy } from "./made-study.js";

/** The 50 chicks of Crowder and Hand (1990): weighed at 0, 2, ... 20, 21 days on four diets. */
const folder = fileURLToPath(new URL("../fixtures/chicks", import.meta.url));
let chicks: StudySeries;
beforeAll(async () => {
  chicks = buildSeries(await readStudy(folder));
});

describe("the ages that are compared", () => {
  it("follow from the ages that most animals share where the usual ones fit nobody", () => {
    const { window, from, why } = windowOfStudy(chicks, "chick");
    expect(window).toEqual({ fromAgeD: 0, toAgeD: 21 });
    expect(from).toBe("shared ages");
    expect(why?.code).toBe("season-window-shared");
  });

  it("are the usual ones as soon as one animal fills them", () => {
    const animals = ["2024", "2025"].flatMap((season) =>
      [1, 2, 3].map((k) => ({ id: `${season}-${k}`, season, gain: 40, untilAgeD: 100 })),
    );
    const found = windowOfStudy(madeStudy(animals), "sea otter");
    expect(found).toEqual({ window: { fromAgeD: 21, toAgeD: 63 }, from: "usual", why: null });
  });

  it("are settled before gains are looked at: other masses, the same ages", () => {
    const random = seededRandom(20261126);
    const other = {
      ...chicks,
      animals: chicks.animals.map((a) => ({
        ...a,
        daily: a.daily.map((d) => ({ ...d, massG: 30 + 300 * random.uniform() })),
      })),
    };
    expect(windowOfStudy(other, "chick").window).toEqual(windowOfStudy(chicks, "chick").window);
  });
});

describe("the season asked about against the earlier ones", () => {
  /** The trial is over: no chick is still to come through the window. */
  const over = () => ({
    ...chicks,
    animals: chicks.animals.map((a) => ({
      ...a,
      animal: { ...a.animal, outcome: "released" as const },
    })),
  });
  const compared = (season?: string, study: StudySeries = over()) =>
    compareSeasons(study, {
      species: "chick",
      window: windowOfStudy(chicks, "chick").window,
      runs: 0,
      mixed: false,
      adjustFor: [],
      ...(season === undefined ? {} : { season }),
    }).value;

  it("is the difference of plain means, pooled error, where nothing is adjusted for", () => {
    const { asked, animals } = compared("diet 3");
    // By hand, from the animals' own gains: one-way layout, pooled within-diet variance.
    const of = (s: string) => animals.filter((a) => a.season === s).map((a) => a.gain);
    const mean = (x: readonly number[]) => x.reduce((a, b) => a + b, 0) / x.length;
    const all = ["diet 1", "diet 2", "diet 3", "diet 4"].map(of);
    const within = all.flatMap((g) => g.map((x) => (x - mean(g)) ** 2)).reduce((a, b) => a + b, 0);
    const n = all.reduce((a, g) => a + g.length, 0);
    const earlier = [...of("diet 1"), ...of("diet 2")];
    const difference = mean(of("diet 3")) - mean(earlier);
    const se = Math.sqrt((within / (n - 4)) * (1 / of("diet 3").length + 1 / earlier.length));
    expect(asked?.difference.value).toBeCloseTo(difference, 10);
    expect(asked?.difference.se).toBeCloseTo(se, 10);
    expect([asked?.n, asked?.nEarlier]).toEqual([of("diet 3").length, earlier.length]);
    expect(asked?.earlier).toEqual(["diet 1", "diet 2"]);
  });

  it("finds what is plain to see: growth on diet 3 differs from diets 1 and 2", () => {
    const { asked, pairs } = compared("diet 3");
    expect(asked?.differs).toBe(true);
    expect(asked?.sentences[0]?.code).toBe("season-asked-differs");
    expect(pairs.find((p) => p.from === "diet 1" && p.to === "diet 3")?.decision).toBe("differs");
  });

  it("says that a stricter limit decides while animals are still to come", () => {
    // Three chicks ended early and count as in care here; p lies between 0.001 and 0.05.
    const { asked } = compared("diet 3", chicks);
    expect(asked?.p).toBeGreaterThan(0.001);
    expect(asked?.p).toBeLessThan(0.05);
    expect(asked?.differs).toBe(false);
    expect(asked?.sentences[0]?.parameters).toMatchObject({ interim: true });
  });

  it("is the latest season where none is named, and cannot be asked of the first", () => {
    expect(compared().asked?.season).toBe("diet 4");
    expect(compared("diet 1").asked).toBeNull();
  });
});

describe("no difference shown", () => {
  it("never stands beside an interval without 0 unless the sentence names the correction", () => {
    let corrected = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const random = seededRandom(seed);
      const animals = ["2021", "2022", "2023", "2024", "2025"].flatMap((season) =>
        Array.from({ length: 6 }, (_, k) => ({
          id: `${season}-${k}`,
          season,
          gain: 40 + 6 * random.normal(),
          untilAgeD: 70,
        })),
      );
      const { pairs } = compareSeasons(madeStudy(animals, seed), {
        species: "sea otter",
        window: { fromAgeD: 21, toAgeD: 63 },
        runs: 0,
        mixed: false,
      }).value;
      for (const pair of pairs) {
        const { lower, upper } = pair.difference.interval!;
        const codes = pair.sentences.map((s) => s.code);
        const outside = lower! > 0 || upper! < 0;
        if (pair.decision !== "not shown") continue;
        expect(codes.includes("season-not-shown")).toBe(!outside);
        expect(codes.includes("season-not-shown-corrected")).toBe(outside);
        if (outside) corrected++;
      }
    }
    // The case is not rare: otherwise nothing would have been tried.
    expect(corrected).toBeGreaterThan(5);
  });
});
