import { describe, expect, it } from "vitest";
import { notice } from "../../../src/core/notice.js";
import {
  animalLevels,
  type LevelOptions,
  levelNotices,
} from "../../../src/flags/levels/animal-levels.js";
import type { AnswerRow, StudySeries } from "../../../src/series/animal-series.js";
import {
  day,
  feedsEvery,
  hour,
  type SmallStudy,
  settings,
  smallStudySeries,
  start,
} from "../../rates/small-study.js";

/** An invented pup of some 18 days, well and fully written, and another of which as much is; at 06:00. */
const at = start + 9 * day;
const of = (animalId: string, lastH = 1) => ({
  weighingRows: Array.from({ length: 9 }, (_, i) => ({
    at: start + i * day + 2 * hour,
    massG: 2000 + 20 * i,
    animalId,
  })),
  feeds: feedsEvery(3, start, at - lastH * hour, { animalId }),
  observations: Array.from({ length: 9 }, (_, i) => i).flatMap((i) =>
    [
      { at: start + i * day + 2 * hour, kind: "temperature", valueText: "37.8", unit: "degC" },
      { at: start + i * day + 14 * hour, kind: "temperature", valueText: "37.8", unit: "degC" },
      { at: start + i * day + 5 * hour, kind: "stool", valueText: "formed" },
      { at: start + i * day + 20 * hour, kind: "urine", valueText: "clear" },
    ].map((line) => ({ ...line, animalId })),
  ),
});
type Line = { hours: number; kind: string; valueText: string };
interface Given extends Omit<SmallStudy, "observations"> {
  /** Seen of the first animal, so many hours before. */
  readonly seen?: readonly Line[];
  readonly answers?: readonly Partial<AnswerRow>[];
}
const studyOf = ({ seen = [], answers, ...parts }: Given = {}): StudySeries => {
  const [one, other] = [of("P1"), of("P2")];
  const study = smallStudySeries({
    animals: [{}, { animalId: "P2", name: "Lor" }],
    weighingRows: [...one.weighingRows, ...other.weighingRows],
    feeds: [...one.feeds, ...other.feeds],
    observations: [
      ...one.observations,
      ...other.observations,
      ...seen.map(({ hours, ...line }) => ({ ...line, at: at - hours * hour })),
    ],
    ...parts,
  });
  const known = { ...study, settings: { ...settings, ...parts.settings } };
  return answers === undefined ? known : { ...known, answers: answers as readonly AnswerRow[] };
};
const levels = (given: Given = {}, options: Partial<LevelOptions> = {}) =>
  animalLevels(studyOf(given), { at, ...options });
const level = (given: Given = {}, options: Partial<LevelOptions> = {}) =>
  levels(given, { only: ["P1"], ...options })[0]!;
const whats = (...a: Parameters<typeof level>) => level(...a).reasons.map((r) => r.what);
const bloat = { hours: 2, kind: "bloat", valueText: "tight" };
const lethargic = { hours: 2, kind: "behaviour", valueText: "lethargic" };
const blood = { hours: 2, kind: "stool", valueText: "formed, bloody" };

describe("the level of an animal", () => {
  it("is that nothing is raised where it is well and fully written", () => {
    expect(levels()).toMatchObject([
      {
        animalId: "P1",
        name: "Tarn",
        at,
        level: "nothing raised",
        act: null,
        reasons: [],
        call: null,
      },
      { animalId: "P2", name: "Lor", level: "nothing raised" },
    ]);
    expect(level({ settings: { callWhom: "the vet" } }).call).toBe("the vet");
  });

  it("is that of its gravest reason, with its act, and the reasons in that order", () => {
    const found = level({ seen: [lethargic, bloat] });
    expect(found).toMatchObject({ level: "danger", act: "do not feed until spoken" });
    expect(found.reasons.map((r) => r.level)).toEqual(["danger", "second look"]);
    expect(level({ seen: [lethargic] })).toMatchObject({ level: "second look" });
    expect(level({ seen: [{ ...bloat, hours: 24 }] }).level).toBe("nothing raised");
    // Nothing later than the instant is read.
    expect(level({ seen: [{ ...bloat, hours: -1 }] }).level).toBe("nothing raised");
    expect(level({ seen: [{ ...bloat, hours: 0 }] }).level).toBe("danger");
  });

  it("is of those in care on the day, or of those asked for", () => {
    const left = {
      animals: [{}, { animalId: "P2", outcome: "released", outcomeDate: "2025-05-05" }],
    };
    const parts = { weighingRows: of("P1").weighingRows, feeds: of("P1").feeds };
    expect(levels({ ...left, ...parts }).map((l) => l.animalId)).toEqual(["P1"]);
    expect(levels({}, { only: ["P2"] }).map((l) => l.animalId)).toEqual(["P2"]);
    expect(levels({}, { only: [] })).toEqual([]);
  });
});

describe("what could be checked", () => {
  const missing = (given: Given) => level(given).checks.missing;
  const expected = "mass against what is expected";
  it("is told by name, with how much that is", () => {
    expect(level().checks).toEqual({ possible: 5, of: 6, missing: [expected] });
    const judged = {
      kind: "slowed gain",
      class: "statistical",
      sentence: notice("flag-no-rhythm", "info", { animal: "P1" }),
    };
    const on = (parts: object) =>
      [
        { animalId: "P2", day: "2025-05-09", raised: [], within: [], episode: null },
        { animalId: "P1", day: "2025-05-09", raised: [], within: [], episode: null, ...parts },
      ] as unknown as NonNullable<LevelOptions["days"]>;
    expect(level({}, { days: on({ within: [judged] }) }).checks).toEqual({
      possible: 6,
      of: 6,
      missing: [],
    });
    expect(level({}, { days: on({ raised: [judged] }) }).checks.missing).toEqual([]);
    expect(level({}, { days: on({}) }).checks.missing).toEqual([expected]);
    const rule = { ...judged, class: "practice" };
    expect(level({}, { days: on({ within: [rule] }) }).checks.missing).toEqual([expected]);
  });

  it("is what was written in the last day", () => {
    const unseen = { observations: of("P2").observations } as Given;
    expect(missing(unseen)).toEqual(["temperature", "signs", "stool and urine", expected]);
    expect(missing({ ...unseen, seen: [] })).toContain("signs");
    const only = (line: Line) =>
      level({ observations: [{ ...line, at: at - line.hours * hour }] } as unknown as Given).checks
        .missing;
    const temperature = { hours: 23.9, kind: "temperature", valueText: "37.8 C" };
    expect(only(temperature)).not.toContain("temperature");
    expect(only(temperature)).toContain("signs");
    expect(only({ ...temperature, hours: 24 })).toContain("temperature");
    expect(only({ ...temperature, valueText: "blorp" })).toContain("temperature");
    expect(only({ hours: 2, kind: "behaviour", valueText: "bright" })).not.toContain("signs");
    expect(only({ hours: 2, kind: "behaviour", valueText: "not checked" })).toContain("signs");
    const fed = (hours: number) =>
      missing({ feeds: [{ at: at - hours * hour }, ...of("P2").feeds] });
    expect([fed(23.9).includes("feeds"), fed(24).includes("feeds")]).toEqual([false, true]);
    expect(missing({ weighingRows: of("P2").weighingRows })).toContain("mass");
  });
});

describe("a silence, or a missed feed", () => {
  /** Nothing is written of it since, but for what is given; of the other until an hour ago. */
  const silent = (lastH: number, seen: readonly Line[] = []): Given => {
    const [one, other] = [of("P1", lastH), of("P2")];
    const before = (row: { at: number }) => row.at <= at - lastH * hour;
    const lines = seen.map(({ hours, ...line }) => ({ ...line, at: at - hours * hour }));
    return {
      weighingRows: [...one.weighingRows, ...other.weighingRows],
      feeds: [...one.feeds, ...other.feeds, { at: at - hour, animalId: "P2" }],
      observations: [...one.observations.filter(before), ...other.observations, ...lines],
    } as Given;
  };
  it("by itself is looked at, beside another sign it is a danger", () => {
    const alone = level(silent(8.5));
    expect(alone).toMatchObject({ level: "second look", act: "go and look now" });
    expect(alone.reasons.find((r) => r.what === "silence")!.level).toBe("second look");
    const beside = level(silent(8.5, [{ ...lethargic, hours: 8.5 }]));
    expect(beside.reasons.find((r) => r.what === "silence")).toMatchObject({
      level: "danger",
      act: "call now, feed as ordered",
      suggestionsWait: true,
      sentence: {
        code: "level-silence-danger",
        level: "problem",
        parameters: { animal: "P1", signs: expect.arrayContaining(["signs"]) },
      },
    });
    const danger = level(silent(8.5, [{ ...bloat, hours: 8.5 }]));
    expect(danger.reasons.find((r) => r.what === "silence")!.level).toBe("danger");
    // Where there is no other animal nobody knows whether anybody writes.
    const single = { ...silent(8.5), animals: [{}] };
    expect(whats(single)).not.toContain("silence");
    // Beside a missed feed alone, and where nobody was silent, it is none.
    expect(alone.reasons.map((r) => r.level)).not.toContain("danger");
  });

  it("beside another sign has the name of the danger: no feed", () => {
    const unfed = (seen: readonly Line[]) =>
      level({
        feeds: [...of("P1", 8.5).feeds, ...of("P2").feeds, { at: at - hour, animalId: "P2" }],
        seen,
      });
    const missed = unfed([]);
    expect(missed.reasons.map((r) => [r.level, r.what])).toEqual([["second look", "missed feed"]]);
    const beside = unfed([lethargic]).reasons.find((r) => r.what === "no feed")!;
    expect(beside).toMatchObject({
      level: "danger",
      act: "call now, feed as ordered",
      sentence: {
        code: "level-missed-feed-danger",
        level: "problem",
        parameters: { animal: "P1", signs: ["signs"] },
      },
    });
  });
});

describe("an order far above bounds", () => {
  const why = notice("order-not-checked", "info", { what: "a", why: "b" });
  const plans = (from: number) => [{ from, dietId: "formula", gPerFeed: 50, feedsPerDay: 8 }];
  it("is a danger that forbids the feed, the first of them alone, since the order began", () => {
    const orderDangers = (id: string) => (id === "P1" ? [why, why] : []);
    const found = level({ plans: plans(start + day) }, { orderDangers });
    expect(found).toMatchObject({ level: "danger", act: "do not feed until spoken" });
    expect(found.reasons).toMatchObject([
      {
        level: "danger",
        what: "feed far above bounds",
        sentence: why,
        at: start + day,
        byAt: at,
        act: "do not feed until spoken",
      },
    ]);
    expect(level({}, { orderDangers }).reasons[0]!.at).toBe(at);
    expect(levels({ plans: plans(start) }, { orderDangers })[1]!.level).toBe("nothing raised");
  });

  it("leaves no other reason that says to feed as ordered", () => {
    const codes = (...seen: readonly Line[]) => level({ seen }).reasons.map((r) => r.sentence.code);
    expect(codes(blood)).toContain("sign-danger-call");
    const beside = codes(blood, bloat);
    expect(beside).toContain("sign-danger-call-unfed");
    expect(beside).not.toContain("sign-danger-call");
  });
});

describe("an answer", () => {
  const answer = (more: object = {}) => ({
    animalId: "P1",
    reason: "bloat",
    at: at - hour,
    by: "Ash",
    until: at + day,
    note: null,
    ...more,
  });
  it("lowers a danger to a second look, which nothing lowers further, and stays below what is open", () => {
    const answered = level({ seen: [bloat], answers: [answer()] as never });
    expect(answered).toMatchObject({ level: "second look", act: null });
    expect(answered.reasons).toMatchObject([{ what: "bloat", level: "danger" }]);
    expect(answered.reasons[0]!.answered).not.toBeNull();
    const open = level({ seen: [bloat, blood], answers: [answer()] as never });
    expect(open).toMatchObject({ level: "danger" });
    expect(open.reasons.map((r) => [r.what, r.answered === null])).toEqual([
      ["blood", true],
      ["bloat", false],
    ]);
    const other = level({ seen: [bloat], answers: [answer({ animalId: "P2" })] as never });
    expect(other.level).toBe("danger");
    const look = level({ seen: [bloat, lethargic], answers: [answer()] as never });
    expect([look.level, look.reasons.at(-1)!.what]).toEqual(["second look", "bloat"]);
  });
});

describe("something answered that is no danger", () => {
  it("leaves nothing raised", () => {
    const row = {
      animalId: "P1",
      reason: "signs",
      at: at - hour,
      by: "Ash",
      until: at + day,
      note: null,
    };
    const answered = level({ seen: [lethargic], answers: [row] as never });
    expect(answered).toMatchObject({ level: "nothing raised", act: null });
    expect(answered.reasons).toHaveLength(1);
  });
});

describe("what is not known of an animal", () => {
  const unweighed = { weighingRows: of("P2").weighingRows };
  it("is to be measured by its next ordered feed", () => {
    const by = (feedTimes: readonly string[], more: object = {}) => {
      const plans = [{ from: start, dietId: "formula", gPerFeed: 50, feedTimes, ...more }];
      const reason = level({ ...unweighed, plans }).reasons.find((r) => r.what === "weigh first")!;
      return reason.byAt === null ? null : (reason.byAt - at) / hour;
    };
    expect([by(["06:00", "09:00", "12:00"]), by(["05:00"]), by(["06:00"])]).toEqual([3, 23, 24]);
    expect([by(["12:00", "09:00", "07:30"]), by([], { feedsPerDay: 8 })]).toEqual([1.5, null]);
  });

  it("is said where its mass cannot be judged and nothing else is raised", () => {
    const once = {
      weighingRows: [{ at: at - 22 * hour, massG: 2000, animalId: "P1" }, ...of("P2").weighingRows],
    };
    expect(level(once)).toMatchObject({
      level: "not judged",
      reasons: [
        {
          level: "not judged",
          what: "weigh first",
          at: start,
          sentence: {
            code: "level-nobody-judged",
            level: "caution",
            parameters: { animal: "P1" },
          },
        },
      ],
    });
    const animals = [{ admittedAt: null }, { animalId: "P2" }];
    expect(level({ ...once, animals }).reasons[0]!.at).toBe(at);
    expect(whats({ ...once, seen: [bloat] })).toEqual(["bloat"]);
  });

  it("is that it was never fed, where feeds of others are written in the last two days", () => {
    const animals = [{ admittedAt: at - 3 * day }, { animalId: "P2" }];
    const unfed = (...hours: readonly number[]) =>
      whats({
        animals,
        feeds: hours.map((h) => ({ at: at - h * hour, animalId: "P2" })),
      }).includes("no feed");
    expect([unfed(1), unfed(47.9), unfed(48), unfed(60), unfed(0), unfed(-1), unfed()]).toEqual([
      true,
      true,
      false,
      false,
      true,
      false,
      false,
    ]);
    expect(unfed(60, 1)).toBe(true);
  });

  it("is its temperature, of a species without a profile where those of others are taken", () => {
    const animals = [{ species: "grebbit" }, { animalId: "P2" }];
    const first = (...lines: readonly (readonly [number, string])[]) =>
      whats({
        animals,
        observations: lines.map(([h, kind]) => ({
          at: at - h * hour,
          kind,
          valueText: kind === "temperature" ? "37.8 C" : "formed",
          animalId: "P2",
        })),
      } as unknown as Given).includes("temperature first");
    expect([
      first([2, "temperature"], [1, "stool"]),
      first([0, "temperature"]),
      first([-1, "temperature"]),
      first([2, "stool"]),
      first(),
    ]).toEqual([true, true, false, false, false]);
  });
});

describe("records that end", () => {
  it("are told of the clock, so long after the last line of all that nobody can say what is", () => {
    const last = at - 3 * hour;
    const ended = (hours: number) => level({}, { now: last + hours * hour });
    const limit = 6;
    expect(ended(limit).reasons).toEqual([]);
    expect(ended(limit + 0.1)).toMatchObject({
      level: "not judged",
      reasons: [
        {
          what: "records end",
          at: last,
          byAt: last + (limit + 0.1) * hour,
          sentence: { code: "level-records-end", level: "problem", parameters: { end: last } },
        },
      ],
    });
    expect(whats()).toEqual([]);
    // Of the other nothing is written since an hour before.
    expect(whats({ feeds: of("P1").feeds }, { now: last + limit * hour })).toEqual([]);
    const old = { animals: [{ birthDateEarliest: "2024-05-01", birthDateLatest: "2024-05-01" }] };
    expect(whats(old, { now: last + 7 * hour })).not.toContain("records end");
    expect(whats(old, { now: last + 13 * hour })).toContain("records end");
    const unborn = { animals: [{ birthDateEarliest: null, birthDateLatest: null }] };
    expect(whats(unborn, { now: last + 7 * hour })).toContain("records end");
  });
});

describe("a standing instruction", () => {
  it("stands beside the danger that it names, word for word, and beside nothing else", () => {
    const standingInstructions = { Bloat: "call Dr. Ash", signs: "wait" };
    const found = level({ seen: [bloat, blood, lethargic], settings: { standingInstructions } });
    expect(found.reasons.map((r) => [r.what, r.standingInstruction])).toEqual(
      expect.arrayContaining([
        ["bloat", "call Dr. Ash"],
        ["blood", null],
      ]),
    );
    expect(found.reasons.filter((r) => r.standingInstruction !== null)).toHaveLength(1);
  });

  it("or an answer that names nothing is told", () => {
    const study = studyOf({
      settings: { standingInstructions: { bloat: "a", blorp: "b" } },
      answers: [
        { animalId: "P1", reason: "blorp", at, by: "Ash" },
        { animalId: "P1", reason: "Missed feed", at, by: "Ash" },
        { animalId: "P1", reason: "bloat", at, by: "Ash" },
      ],
    });
    expect(levelNotices(study)).toMatchObject([
      {
        code: "level-answer-astray",
        level: "problem",
        parameters: { name: "blorp", animal: "P1", at, by: "Ash" },
      },
      { code: "level-instruction-unknown", level: "problem", parameters: { name: "blorp" } },
    ]);
    expect(levelNotices(studyOf())).toEqual([]);
  });
});
