import { beforeAll, describe, expect, it } from "vitest";
import { askDay } from "../../src/analysis/ask-day.js";
import { askFeedingPlan } from "../../src/analysis/ask-feeding-plan.js";
import { noticeText } from "../../src/core/catalogue.js";
import { parseStudy } from "../../src/records/parse-study.js";
import type { Study } from "../../src/records/study.js";
import { summariseStudy } from "../../src/records/summarise-study.js";
import { inventedNursery } from "../bench/causes/invented-nursery.js";

/**
 * A species that nobody knows, the "murrel", from its profile file to the day's
 * pages. All its numbers are invented.
 */
const profile = {
  scientific_name: "Murrella ficta",
  birth_mass: { range: [1.8, 2.6], unit: "kg" },
  body_temperature: { range: [98.6, 101.3], unit: "degF", source: "our veterinarian" },
  intake: [{ from_d: 0, to_d: 120, share: [20, 26] }],
  plausible_mass: [{ unusual: [1000, 9000], impossible: [500, 20000] }],
  post_weaning_fast: null,
  very_young: 40,
};

function studyOf(entries: unknown, settings: Record<string, unknown> = {}): Study {
  const { files } = inventedNursery("illness signs", 20261400);
  const encode = (text: string) => new TextEncoder().encode(text);
  const renamed = files.map(({ path, text }) => ({
    path,
    text: text.replaceAll("sea otter", "murrel"),
  }));
  return parseStudy([
    ...renamed.map(({ path, text }) => ({
      path,
      bytes: encode(
        path === "study.json"
          ? JSON.stringify({
              ...JSON.parse(text),
              species_overrides: { murrel: "murrel.json" },
              ...settings,
            })
          : text,
      ),
    })),
    { path: "murrel.json", bytes: encode(JSON.stringify(entries)) },
  ]);
}

describe("a species of one's own", () => {
  let study: Study;
  beforeAll(() => {
    study = studyOf(profile);
  });

  it("is read from a profile file, in pounds, Fahrenheit or kilograms, and needs no asking", () => {
    expect(study.setAside).toEqual([]);
    expect(study.notices.filter((n) => n.code.startsWith("species"))).toEqual([]);
  });

  it("judges temperatures by its own range, and rations by its own intake", async () => {
    const day = (await askDay(study)).value.analysis.value;
    expect(day.animals.every((a) => a.species === "murrel")).toBe(true);
    // 98.6 F is 37 C, 101.3 F is 38.5 C (definition): 38.6 C and more is above it.
    const warm = day.animals.flatMap((a) =>
      [...(a.day?.raised ?? []), ...(a.day?.within ?? [])].flatMap((s) =>
        s.kind === "temperature" ? [s.evidence] : [],
      ),
    );
    for (const e of warm) {
      expect(e.lowC).toBeCloseTo(37, 9);
      expect(e.highC).toBeCloseTo(38.5, 9);
    }
    expect(warm.length).toBeGreaterThan(0);
    const asked = { forecastSpecies: "murrel", targetG: 5000 };
    const plan = (await askFeedingPlan(study, asked)).value;
    expect(plan.profiles.map((p) => [p.species, p.intake[0]?.share.range])).toEqual([
      ["murrel", [20, 26]],
    ]);
  });

  it("is on milk, since formula was fed to it, and has no fast", async () => {
    const day = (await askDay(study)).value.analysis.value;
    expect(new Set(day.animals.map((a) => a.phase))).toEqual(new Set(["milk"]));
  });

  it("has each entry that cannot be used listed by the check, with what to write", () => {
    const wrong = studyOf({
      ...profile,
      body_temperature: [98.6, 101.3],
      birth_weight: [1800, 2600],
    });
    const said = summariseStudy(wrong)
      .notices.filter((n) => n.first.code.startsWith("species"))
      .map((n) => [n.first.code, n.first.level]);
    expect(said).toEqual(
      expect.arrayContaining([
        ["species-override-fahrenheit", "problem"],
        ["species-override-unknown-entry", "problem"],
      ]),
    );
    // Three entries of one fault are three lines, each with its name.
    const three = studyOf({ ...profile, weaning: [50, 40], adult_mass: "12", very_young: {} });
    const named = summariseStudy(three)
      .notices.filter((n) => n.first.code === "species-override-unreadable")
      .map((n) => n.first.parameters["entry"]);
    expect(named.sort()).toEqual(["adult_mass", "very_young", "weaning"]);
    const nobody = studyOf(profile, { species_overrides: { murel: { feed_limit: 5 } } });
    const codes = nobody.notices.map((n) => n.code);
    expect(codes).toEqual(
      expect.arrayContaining(["species-override-of-nobody", "species-unknown"]),
    );
    const hint = noticeText(nobody.notices.find((n) => n.code === "species-unknown")!);
    expect(hint).toContain('"species_overrides"');
  });
});
