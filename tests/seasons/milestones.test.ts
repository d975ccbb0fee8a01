import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { cumulativeShares } from "../../src/seasons/cumulative-shares.js";
import { describeMilestone } from "../../src/seasons/describe-milestone.js";
import { describeMilestones } from "../../src/seasons/describe-milestones.js";
import { type MilestoneTime, milestoneTimes } from "../../src/seasons/milestone-times.js";
import { competingRisks } from "../../src/stats/survival/competing-risks.js";
import { type MadeAnimal, madeStudy } from "./made-study.js";

const dive = "first unaided dive";
const look = (ageD: number, text: string, notes = dive) => ({ ageD, text, notes });
const animal = (id: string, more: Partial<MadeAnimal>): MadeAnimal => ({
  id,
  season: "2031",
  gain: 30,
  ...more,
});
const times = (animals: readonly MadeAnimal[], milestone = dive) =>
  milestoneTimes(madeStudy(animals), { species: "sea otter", milestone });

describe("reading milestone times", () => {
  it("brackets a milestone between the last 'not yet' and the first 'seen'", () => {
    const { times: found } = times([
      animal("a", {
        observations: [
          look(50, "not yet"),
          look(57, "not yet"),
          look(64, "seen"),
          look(71, "seen"),
        ],
      }),
    ]);
    expect(found[0]).toMatchObject({ after: 57, by: 64, ended: "seen", entered: 6, looks: 4 });
  });

  it("begins at admission where nobody looked before", () => {
    const { times: found } = times([
      animal("a", { arrivalAgeD: 9, observations: [look(64, "Seen")] }),
    ]);
    expect(found[0]).toMatchObject({ after: 9, by: 64, entered: 9 });
  });

  it("tells death and leaving from not yet", () => {
    const { times: found } = times([
      animal("dead", { untilAgeD: 60, outcome: "died", observations: [look(57, "not yet")] }),
      animal("left", {
        untilAgeD: 60,
        outcome: "transferred",
        observations: [look(57, "not yet")],
      }),
      animal("here", { outcome: "in care", observations: [look(57, "not yet")] }),
    ]);
    expect(found.map((t) => t.ended)).toEqual(["died", "left", "still in care"]);
    for (const t of found) expect(t.by).toBeNull();
  });

  it("leaves out, with the reason, what cannot be placed", () => {
    const { leftOut } = times([
      animal("past", { arrivalAgeD: 40, observations: [look(40, "seen")] }),
      animal("unlooked", {}),
      animal("undated", { usable: false, observations: [look(60, "seen")] }),
    ]);
    expect(leftOut.map((l) => l.why.code)).toEqual([
      "milestone-past-at-admission",
      "milestone-never-looked",
      "milestone-age-unusable",
    ]);
  });

  it("notes a 'not yet' after 'seen' and keeps the first sighting", () => {
    const found = times([animal("a", { observations: [look(50, "seen"), look(57, "not yet")] })]);
    expect(found.times[0]!.by).toBe(50);
    expect(found.notices[0]!.code).toBe("milestone-not-yet-after-seen");
  });

  it("counts days since admission when asked, for animals without an age too", () => {
    const study = madeStudy([
      animal("a", { arrivalAgeD: 10, usable: false, observations: [look(64, "seen")] }),
    ]);
    const found = milestoneTimes(study, {
      species: "sea otter",
      milestone: dive,
      scale: "since admission",
    });
    expect(found.times[0]).toMatchObject({ entered: 0, by: 54 });
  });
});

describe("shares with competing events", () => {
  const row = (
    id: number,
    entered: number,
    last: number,
    ended: MilestoneTime["ended"],
  ): MilestoneTime => ({
    animalId: String(id),
    season: "2031",
    entered,
    after: last,
    by: ended === "seen" ? last : null,
    ended,
    last,
    looks: 3,
  });

  it("are the Aalen-Johansen estimate of the statistics room when all enter at once", () => {
    const rows = [
      row(1, 0, 10, "seen"),
      row(2, 0, 12, "died"),
      row(3, 0, 12, "seen"),
      row(4, 0, 15, "still in care"),
      row(5, 0, 18, "left"),
      row(6, 0, 20, "seen"),
      row(7, 0, 21, "still in care"),
    ];
    const ours = cumulativeShares(rows);
    const theirs = competingRisks(
      rows.map((r) => r.last),
      rows.map((r) => (r.ended === "still in care" ? null : r.ended)),
      ["seen", "died", "left"],
    ).steps;
    for (const step of ours) {
      const same = theirs.find((s) => s.time === step.day)!;
      expect(step.seen).toBeCloseTo(same.cumulative[0]!, 12);
      expect(step.died).toBeCloseTo(same.cumulative[1]!, 12);
      expect(step.left).toBeCloseTo(same.cumulative[2]!, 12);
    }
  });

  it("count only who is under observation: by hand, with a late arrival", () => {
    // Day 5: at risk 1, 2 (3 enters at 6): seen 1/2. Day 8: at risk 2, 3: died 1/2 of 1/2.
    const shares = cumulativeShares([
      row(1, 0, 5, "seen"),
      row(2, 0, 8, "died"),
      row(3, 6, 9, "seen"),
    ]);
    expect(shares.map((s) => [s.atRisk, s.seen, s.died])).toEqual([
      [2, 0.5, 0],
      [2, 0.5, 0.25],
      [1, 0.75, 0.25],
    ]);
  });
});

describe("describing a milestone", () => {
  const many = (n: number, more: (i: number) => Partial<MadeAnimal> = () => ({})) =>
    Array.from({ length: n }, (_, i) =>
      animal(`a${i}`, {
        season: i % 2 ? "2031" : "2032",
        arrivalMassG: 1600 + 30 * i,
        observations: [look(56 + (i % 5), "not yet"), look(63 + (i % 5), "seen")],
        ...more(i),
      }),
    );

  it("names the days between which half had reached it", () => {
    const study = madeStudy(many(12));
    const { value } = describeMilestone(study, { species: "sea otter", milestone: dive });
    expect(value.seen).toBe(12);
    expect(value.turnbull.converged).toBe(true);
    expect(value.median!.from).toBeGreaterThanOrEqual(56);
    expect(value.median!.to).toBeLessThanOrEqual(67);
    expect(noticeText(value.sentences[0]!)).toMatch(/Half of the sea otters had reached/);
    expect(value.restrictedMean.value).toBeGreaterThan(55);
    const text = JSON.stringify(value);
    expect(text).not.toMatch(/NaN|null,null,null,null/);
  });

  it("compares groups from the looks themselves: by scores since admission, by drawn times on ages", () => {
    const study = madeStudy(
      many(12, (i) => ({
        observations: [look(56 + (i % 2) * 14, "not yet"), look(63 + (i % 2) * 14, "seen")],
      })),
    );
    const on = (scale: "age" | "since admission") =>
      describeMilestone(study, { species: "sea otter", milestone: dive, scale }).value.groups!;
    // Ages are left-truncated at admission, which the scores cannot take up.
    expect(on("age").betweenLooks.method).toBe("drawn times (Huang)");
    expect(on("since admission").betweenLooks.method).toBe("scores (Sun)");
    // Six at 56-63 d against six at 70-77 d: no overlap, whichever test looks.
    expect(on("age").betweenLooks.p).toBeLessThan(0.01);
    expect(on("since admission").betweenLooks.p).toBeLessThan(0.01);
    expect(on("age").p).toBeLessThan(0.01);
  });

  it("fits no Cox model under ten events and says so", () => {
    const nine = describeMilestone(madeStudy(many(9)), {
      species: "sea otter",
      milestone: dive,
    }).value;
    expect(nine.model).toBeNull();
    expect(nine.sentences.map((s) => s.code)).toContain("milestone-few-events");
    const twelve = describeMilestone(madeStudy(many(12)), {
      species: "sea otter",
      milestone: dive,
    }).value;
    expect(twelve.model!.events).toBe(12);
    expect(twelve.model!.terms.map((t) => t.name)).toEqual(["arrival mass"]);
  });

  it("counts the dead as dead in the sentence and in the shares", () => {
    const study = madeStudy(
      many(10, (i) =>
        i < 2 ? { untilAgeD: 50, outcome: "died", observations: [look(45, "not yet")] } : {},
      ),
    );
    const { value } = describeMilestone(study, { species: "sea otter", milestone: dive });
    expect(value.died).toBe(2);
    expect(value.shares.at(-1)!.died).toBeCloseTo(0.2, 12);
    expect(value.sentences.map((s) => noticeText(s)).join(" ")).toMatch(
      /2 animals died\. Each is counted/,
    );
  });

  it("gives the context about release for sea otters only", () => {
    const name = "release or long-term care decision";
    const made = (species: string) =>
      madeStudy(
        many(4, () => ({
          species,
          observations: [look(60, "not yet", name), look(67, "seen", name)],
        })),
      );
    const codes = (species: string) =>
      describeMilestone(made(species), { species, milestone: name }).value.sentences.map(
        (s) => s.code,
      );
    expect(codes("sea otter")).toContain("milestone-otter-release-context");
    expect(codes("harbour seal")).not.toContain("milestone-otter-release-context");
  });

  it("shows the context for sea otters whatever the wording, and for seals never", () => {
    for (const name of ["Release decision", "long-term care decided"]) {
      const study = madeStudy([
        ...many(4, () => ({ observations: [look(60, "not yet", name), look(67, "seen", name)] })),
        ...many(4, (i) => ({
          id: `s${i}`,
          species: "harbour seal",
          observations: [look(60, "not yet", name), look(67, "seen", name)],
        })),
      ]);
      const words = (species: string) =>
        describeMilestones(study, { species, runs: 0 })
          .value.milestones.flatMap((m) => m.sentences.map((x) => noticeText(x)))
          .join(" ");
      expect(words("sea otter")).toMatch(/six months.*surrogate mothers.*The authority decides/);
      expect(words("sea otter")).toMatch(/common practice without a source/);
      expect(words("harbour seal")).not.toMatch(/six months|surrogate|non-releasable/);
    }
  });

  it.each([
    "eyes fully open",
    "natal pelage moult begins",
    "adult pelage complete",
    "full weaning",
    "integration with others",
    "release or long-term care decision",
  ])("reads %s from the looks, whatever its case", (name) => {
    const study = madeStudy(
      many(6, () => ({
        observations: [look(60, "not yet", name), look(67, "seen", name.toUpperCase())],
      })),
    );
    const { value } = describeMilestone(study, { species: "sea otter", milestone: name, runs: 0 });
    expect([value.seen, value.median!.from, value.median!.to]).toEqual([6, 60, 67]);
  });

  it("takes the first voluntary weighing and the first solid eaten from the tables that tell them exactly", () => {
    const study = madeStudy(many(6, (i) => ({ voluntaryFromAgeD: 70 + i, solidFromAgeD: 35 + i })));
    const of = (milestone: string) =>
      describeMilestone(study, { species: "sea otter", milestone, runs: 0 }).value;
    for (const [name, day] of [
      ["voluntary platform weighing", 70],
      ["first solid", 35],
    ] as const) {
      const found = of(name);
      expect(found.seen).toBe(6);
      for (const t of found.times) expect(t.after).toBe(t.by);
      expect(found.times.map((t) => Math.round(t.by! - day)).sort()).toEqual([0, 1, 2, 3, 4, 5]);
    }
  });

  it("does not let death or transfer pass for 'not yet': the naive curve promises too much", () => {
    // Four of twelve die or leave before it: of all, two thirds reach it, not everybody.
    const study = madeStudy(
      many(12, (i) =>
        i < 4
          ? {
              untilAgeD: 50 + i,
              outcome: i % 2 ? ("transferred" as const) : ("died" as const),
              observations: [look(45, "not yet")],
            }
          : {},
      ),
    );
    const { value } = describeMilestone(study, { species: "sea otter", milestone: dive, runs: 0 });
    const last = value.shares.at(-1)!;
    expect(last.seen).toBeCloseTo(8 / 12, 12);
    expect([last.died, last.left]).toEqual([
      expect.closeTo(2 / 12, 12),
      expect.closeTo(2 / 12, 12),
    ]);
    expect(last.se[0]).toBeCloseTo(Math.sqrt(((8 / 12) * (4 / 12)) / 12), 12);
    // Taken as censored, one minus Kaplan-Meier comes to 1.
    expect(1 - value.middle.at(-1)!.survival).toBeCloseTo(1, 12);
    expect(value.sentences.map((x) => x.code)).toContain("milestone-competing");
  });

  it("gives the curve an interval, and the day of the half one too", () => {
    const study = madeStudy(many(12));
    const run = () =>
      describeMilestone(study, { species: "sea otter", milestone: dive, runs: 200, seed: 5 }).value;
    const { reached, medianInterval, median } = run();
    for (const piece of reached) {
      expect(piece.least).toBeLessThanOrEqual(piece.most);
      expect(piece.interval!.lower).toBeLessThanOrEqual(piece.least);
      expect(piece.interval!.upper).toBeGreaterThanOrEqual(piece.most);
    }
    expect(reached.at(-1)).toMatchObject({ least: 1, most: 1 });
    expect(medianInterval!.lower).toBeLessThanOrEqual(median!.from);
    expect(medianInterval!.upper).toBeGreaterThanOrEqual(median!.from);
    expect(run()).toEqual(run());
    const text = noticeText(run().sentences[0]!);
    expect(text).toMatch(/could lie anywhere from .* to .* d \(95 % interval\)/);
    expect(
      describeMilestone(study, { species: "sea otter", milestone: dive, runs: 0 }).value
        .medianInterval,
    ).toBeNull();
  });

  it("says so where the looks themselves give another answer than their middles", () => {
    // One season looked at weekly, the other monthly: middles differ, what is known does not.
    const study = madeStudy(
      many(16, (i) => ({
        arrivalAgeD: 6,
        observations:
          i % 2 === 0
            ? [look(60 + (i % 4), "not yet"), look(67 + (i % 4), "seen")]
            : [look(30 + (i % 4), "not yet"), look(75 + (i % 4), "seen")],
      })),
    );
    const { groups, sentences } = describeMilestone(study, {
      species: "sea otter",
      milestone: dive,
      runs: 0,
    }).value;
    expect(groups!.p).toBeLessThan(0.05);
    // All looks have the days 63 to 67 in common: everyone may have been seen then.
    expect(groups!.betweenLooks.p).toBeNull();
    expect(sentences.map((x) => x.code)).toContain("milestone-looks-say-nothing");
  });

  it("says that nobody was seen, without a curve", () => {
    const { value } = describeMilestone(
      madeStudy(many(3, () => ({ observations: [look(50, "not yet")] }))),
      {
        species: "sea otter",
        milestone: dive,
      },
    );
    expect(value.sentences[0]!.code).toBe("milestone-none-seen");
    expect(value.middle).toEqual([]);
    expect(value.restrictedMean.value).toBeNull();
  });
});
