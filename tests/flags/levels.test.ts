import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { animalLevels, levelNotices } from "../../src/flags/levels/animal-levels.js";
import { seriesUpTo } from "../../src/rates/series-up-to.js";
import { nextActs } from "../../src/report/day/act-words.js";
import { day, hour, type SmallStudy, smallStudySeries, start } from "../rates/small-study.js";

/** An invented pup of ten days, well and fully written, at 06:00; dangers are added one by one. */
const at = start + 9 * day;
const every3 = (from: number, to: number) =>
  Array.from({ length: Math.floor((to - from) / (3 * hour)) + 1 }, (_, i) => ({
    at: from + 3 * hour * i,
    dietId: "formula",
    offeredG: 50,
    refusedG: 0,
  }));
const well = {
  weighings: Array.from(
    { length: 9 },
    (_, i) => [start + i * day + 2 * hour, 2000 + 20 * i] as const,
  ),
  feeds: every3(start, at - hour),
  plans: [{ from: start, gPerFeed: 50, feedsPerDay: 8 }],
  observations: Array.from({ length: 9 }, (_, i) => i).flatMap((i) => [
    { at: start + i * day + 2 * hour, kind: "temperature", value: 37.8, unit: "degC" },
    { at: start + i * day + 14 * hour, kind: "temperature", value: 37.8, unit: "degC" },
    { at: start + i * day + 5 * hour, kind: "stool", valueText: "formed" },
    { at: start + i * day + 20 * hour, kind: "urine", valueText: "clear" },
  ]),
} satisfies SmallStudy;
const levelOf = (parts: SmallStudy = {}, when = at) =>
  animalLevels(smallStudySeries({ ...well, ...parts }), { at: when })[0]!;
const seen = (kind: string, value: string, hours = 5) => ({
  observations: [...well.observations, { at: at - hours * hour, kind, valueText: value }],
});

describe("levels", () => {
  it("raise nothing of an animal that is well and fully written", () => {
    expect(levelOf()).toMatchObject({ level: "nothing raised", act: null, reasons: [] });
  });

  it.each([
    ["temperature", "36.9", "cold", "do not feed until spoken"],
    ["temperature", "38.9 C", "hot", "call now, feed as ordered"],
    ["glucose", "28 mg/dL", "glucose", "call now, feed as ordered"],
    ["glucose", "1.5 mmol/L", "glucose", "call now, feed as ordered"],
    ["vomit", "2x", "repeated vomit", "do not feed until spoken"],
    ["bloat", "tight", "bloat", "do not feed until spoken"],
    ["stool", "watery, bloody", "blood", "call now, feed as ordered"],
    ["behaviour", "lethargic, not suckling", "not suckling", "do not feed until spoken"],
    ["behaviour", "cannot be roused", "cannot be roused", "do not feed until spoken"],
    ["convulsion", "once", "convulsion", "do not feed until spoken"],
    ["hydration", "12 %", "dehydrated", "call now, feed as ordered"],
    ["note", "temp 95.1 F, gave warm bottle", "cold", "do not feed until spoken"],
    ["note", "both pups cold, 36.1 C", "cold", "do not feed until spoken"],
    ["exam", "bg 32, gave dextrose", "glucose", "call now, feed as ordered"],
    [
      "note",
      "milk came out of its nose while feeding",
      "trouble breathing",
      "do not feed until spoken",
    ],
    ["note", "choked on the bottle", "trouble breathing", "do not feed until spoken"],
    ["note", "found dead", "cannot be roused", "do not feed until spoken"],
  ])("%s %s is a danger", (kind, value, what, act) => {
    const level = levelOf(seen(kind, value));
    expect(level).toMatchObject({ level: "danger", act });
    expect(level.reasons[0]).toMatchObject({ level: "danger", what, act, answered: null });
    expect(noticeText(level.reasons[0]!.sentence).length).toBeGreaterThan(20);
  });

  it.each([
    "pool temp 12 C, room temp 36",
    "weekly exam, temp 37.8, all well",
    "no discharge from nose",
    "milk temp 38.5, heat pad 41",
  ])("the note '%s' raises nothing", (words) => {
    expect(levelOf(seen("note", words)).level).toBe("nothing raised");
  });

  it("three vomits in a day are a danger however far apart, and two are counted", () => {
    const times = (...hours: number[]) => ({
      observations: [
        ...well.observations,
        ...hours.map((h) => ({ at: at - h * hour, kind: "vomit", valueText: "1" })),
      ],
    });
    expect(levelOf(times(17, 9, 1))).toMatchObject({
      level: "danger",
      act: "call now, feed as ordered",
    });
    const two = levelOf(times(9, 1));
    expect(two.level).toBe("second look");
    expect(noticeText(two.reasons[0]!.sentence)).toContain("twice in 24 h");
    // Two within six hours forbid the next feed; a third, later, does not allow it again.
    expect(levelOf(times(10, 9, 1))).toMatchObject({ act: "do not feed until spoken" });
  });

  it("a thin condition is looked at, by the scale that is written beside it", () => {
    // On nine points 2 is 1.1 of 5, and 4 is 2.2.
    for (const [score, level] of [
      ["1/5", "second look"],
      ["2/9", "second look"],
      ["4/9", "nothing raised"],
      ["3/5", "nothing raised"],
      ["emaciated", "second look"],
    ])
      expect(levelOf(seen("condition score", score!)).level, score).toBe(level);
  });

  it("a limit that the study set is not called common practice", () => {
    const low = seen("glucose", "33 mg/dL");
    const words = (parts: SmallStudy) => noticeText(levelOf(parts).reasons[0]!.sentence);
    expect(words(low)).toContain("outside 40 to 400 mg/dL, common practice");
    const set = { settings: { watchLimits: { glucose_danger: [35, 400] as const } } };
    expect(words({ ...low, ...set })).toContain("outside 35 to 400 mg/dL, set in study.json");
    const lost = { weighings: [...well.weighings.slice(0, -1), [at - 2 * hour, 1990] as const] };
    expect(words(lost)).toContain("looked at from 5 %, common practice");
    const loss = { settings: { watchLimits: { loss_pct: 4 } } };
    expect(words({ ...lost, ...loss })).toContain("looked at from 4 %, set in study.json");
  });

  it("a reading without a number of its own is shown as written", () => {
    for (const written of ["Lo", "<36"]) {
      const words = noticeText(levelOf(seen("temperature", written)).reasons[0]!.sentence);
      expect(words).toContain(`cold: written "${written}"`);
    }
  });

  it("feeds of which nothing was eaten are no feeds, and none is missed in a nil by mouth", () => {
    const refused = (n: number) =>
      well.feeds.map((f, i) => (i >= well.feeds.length - n ? { ...f, refusedG: f.offeredG } : f));
    expect(levelOf({ feeds: refused(1) }).level).toBe("nothing raised");
    expect(levelOf({ feeds: refused(2) }).reasons[0]).toMatchObject({ what: "missed feed" });
    expect(levelOf({ feeds: refused(3) })).toMatchObject({ level: "danger" });
    // Three pieces refused after a meal that was eaten are no feeds missed.
    const last = well.feeds.at(-1)!;
    const pieces = [10, 20, 30].map((min) => ({
      ...last,
      at: last.at + (min * hour) / 60,
      offeredG: 10,
      refusedG: 10,
    }));
    expect(levelOf({ feeds: [...well.feeds, ...pieces] }).level).toBe("nothing raised");
    expect(noticeText(levelOf({ feeds: refused(8) }).reasons[0]!.sentence)).toMatch(
      /not eating: .* ate nothing of 8 feeds since/,
    );
    const stopped = {
      feeds: well.feeds.filter((f) => f.at < at - 14 * hour),
      observations: [...well.observations, { at: at - hour, kind: "note", valueText: "quiet" }],
    };
    const nil = { from: at - 14 * hour, dietId: "nil by mouth" };
    const again = { from: at - 11 * hour, gPerFeed: 30, feedsPerDay: 8 };
    const whats = (plans: SmallStudy["plans"]) =>
      levelOf({ ...stopped, plans: [...well.plans, ...plans!] }).reasons.map((r) => r.what);
    expect(whats([])).toContain("no feed");
    expect(whats([nil])).toEqual([]);
    expect(whats([nil, again])).toContain("no feed");
  });

  it("a loss of more than 10 % from admission or the best level is a danger, 5 % a look", () => {
    const last = (g: number) => ({
      weighings: [...well.weighings.slice(0, -1), [at - 2 * hour, g] as const],
    });
    // Best of 14 days: the median of 2100, 2120 and 2140 is 2120 g; 5 % of it 106, 10 % 212 g.
    // Against the day before, 2140 g, 2040 g is 4.7 % less.
    expect(levelOf(last(2040)).level).toBe("nothing raised");
    expect(levelOf(last(2010))).toMatchObject({ level: "second look" });
    expect(levelOf(last(1890))).toMatchObject({
      level: "danger",
      act: "call now, feed as ordered",
    });
  });

  it("a feed given while nothing by mouth was ordered is a danger, not to be fed until spoken", () => {
    const nil = (hours: number) => ({
      plans: [...well.plans, { from: at - hours * hour, dietId: "nil by mouth" }],
    });
    // Its last feeds stand 6 and 3 h before.
    const level = levelOf(nil(7));
    expect(level).toMatchObject({ level: "danger", act: "do not feed until spoken" });
    expect(level.reasons[0]).toMatchObject({
      what: "fed while nothing by mouth",
      size: { value: 2, unit: "feeds" },
    });
    const whats = (parts: SmallStudy) => levelOf(parts).reasons.map((r) => r.what);
    expect(whats(nil(2))).not.toContain("fed while nothing by mouth");
    // Offered, and all of it refused: nothing was swallowed.
    const refused = well.feeds.map((f) =>
      f.at > at - 7 * hour ? { ...f, refusedG: f.offeredG } : f,
    );
    expect(whats({ ...nil(7), feeds: refused })).not.toContain("fed while nothing by mouth");
  });

  it("no feed for more than three intervals is a danger; a refusal left blank is none", () => {
    const stopped = { feeds: every3(start, at - 11 * hour) };
    const other = { at: at - hour, kind: "note", valueText: "quiet" };
    const observations = [...well.observations, other];
    expect(levelOf({ ...stopped, observations }).reasons[0]).toMatchObject({ what: "no feed" });
    const blank = well.feeds.map(({ refusedG: _, ...f }) => f);
    expect(levelOf({ feeds: blank }).level).toBe("nothing raised");
  });

  it("asks for a temperature first where it is missing, and prints above what to do", () => {
    const observations = well.observations.filter((o) => o.kind !== "temperature");
    const { level, reasons } = levelOf({ observations });
    expect(level).toBe("measure first");
    expect(noticeText(reasons[0]!.sentence)).toMatch(/^Temperature first.*Under 37.3 °C do not/);
  });

  it("is silent of an animal alone, and says when the records end", () => {
    const later = animalLevels(smallStudySeries(well), { at, now: at + 10 * hour })[0]!;
    expect(later.level).toBe("not judged");
    expect(noticeText(later.reasons[0]!.sentence)).toMatch(/^The records end at/);
  });

  it("prints the veterinarian's instruction and whom to call word for word, and names what it cannot", () => {
    const settings = {
      callWhom: "the one on duty, 555 0100",
      standingInstructions: { hot: "Cool slowly; call.", heat: "never printed" },
      watchLimits: { temperature_margin_c: 1.5, glucose_danger: 3 },
    };
    const hot = seen("temperature", "38.9 C");
    // 38.9 °C lies within a margin of 1.5 °C: the entry of the veterinarian wins.
    expect(levelOf({ ...hot, settings }).level).toBe("second look");
    const told = levelOf({ ...hot, settings: { ...settings, watchLimits: {} } });
    expect(told.call).toBe("the one on duty, 555 0100");
    expect(told.reasons[0]!.standingInstruction).toBe("Cool slowly; call.");
    const said = levelNotices(smallStudySeries({ settings })).map((n) => noticeText(n));
    expect(said).toHaveLength(2);
    expect(said.join()).toMatch(/"glucose_danger".*"heat"/s);
  });

  it("never says feed as ordered beside what forbids the next feed", () => {
    const level = levelOf({
      observations: [
        ...well.observations,
        { at: at - 5 * hour, kind: "bloat", valueText: "tight" },
        { at: at - 3 * hour, kind: "glucose", valueText: "30 mg/dL" },
      ],
    });
    const said = [
      ...level.reasons.map((r) => noticeText(r.sentence)),
      ...nextActs(level, "UTC").map((a) => `${a.when} ${a.act}`),
    ];
    expect(said[0]).toMatch(/^Danger, bloat/);
    expect(said.join(" ")).not.toMatch(/as ordered/i);
    const alone = levelOf(seen("glucose", "30 mg/dL"));
    expect(nextActs(alone, "UTC")[0]!.act).toMatch(/Feed as ordered/);
  });

  it("an answer is found by the names that people use, and one that names nothing is told", () => {
    const cold = seen("temperature", "36.4 degC");
    const answered = (reason: string) => {
      const study = smallStudySeries({ ...well, ...cold });
      const row = {
        ...{ animalId: "P1", reason, at: at - 4 * hour, until: at + 3 * hour, by: "Tor" },
        ...{ note: null, origin: { file: "answers.csv", line: 2 } },
      };
      return { ...study, answers: [row] } as typeof study;
    };
    for (const name of ["cold", "Temperature", "low temperature"]) {
      const level = animalLevels(answered(name), { at })[0]!;
      expect(level.reasons[0]!.answered?.by, name).toBe("Tor");
      expect(level.level).toBe("second look");
      expect(nextActs(level, "UTC")).toEqual([
        { when: "By 09:00:", act: expect.stringMatching(/answer .* ends: look again/) },
      ]);
      expect(levelNotices(answered(name))).toEqual([]);
    }
    expect(noticeText(levelNotices(answered("chilly"))[0]!)).toMatch(/"chilly" for P1.*no reason/);
  });

  it("says go and look of one that is silent while another is written, and danger beside a sign", () => {
    const one = smallStudySeries(well);
    const animal = (id: string, until: number) => {
      const own = seriesUpTo(one.animals[0]!, until);
      return { ...own, animal: { ...own.animal, animalId: id } };
    };
    const both = { ...one, animals: [animal("A", at), animal("B", at - 10 * hour)] };
    const [a, b] = animalLevels(both, { at });
    expect(a!.level).toBe("nothing raised");
    expect(b).toMatchObject({ level: "second look", act: "go and look now" });
    expect(b!.reasons[0]!.what).toBe("silence");
    const soft = [11, 12, 13].map((h) => ({
      at: at - h * hour,
      kind: "stool",
      valueText: "watery",
    }));
    const ill = smallStudySeries({ ...well, observations: [...well.observations, ...soft] });
    const sign = seriesUpTo(ill.animals[0]!, at - 10 * hour);
    const beside = { ...one, animals: [animal("A", at), sign] };
    expect(animalLevels(beside, { at })[1]).toMatchObject({ level: "danger" });
    // Nobody else to be heard of: not silent.
    const alone = { ...one, animals: [animal("B", at - 10 * hour)] };
    expect(animalLevels(alone, { at })[0]!.reasons.some((r) => r.what === "silence")).toBe(false);
  });

  it("looks at a temperature that only falls through half of its range", () => {
    const taken = [38.1, 37.9, 37.7, 37.5].map((degC, i) => ({
      at: at - (46 - 14 * i) * hour,
      kind: "temperature",
      valueText: String(degC),
    }));
    const others = well.observations.filter((o) => o.kind !== "temperature");
    const { level, reasons } = levelOf({ observations: [...others, ...taken] });
    expect([level, reasons[0]!.what]).toEqual(["second look", "temperature trend"]);
    const up = taken.map((t, i) => (i === 2 ? { ...t, valueText: "38.0" } : t));
    expect(levelOf({ observations: [...others, ...up] }).level).toBe("nothing raised");
  });
});
