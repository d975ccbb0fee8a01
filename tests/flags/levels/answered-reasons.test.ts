import { describe, expect, it } from "vitest";
import { notice } from "../../../src/core/notice.js";
import { answeredReasons, sameName } from "../../../src/flags/levels/answered-reasons.js";
import type { LevelReason } from "../../../src/flags/levels/level.js";
import { makeReason } from "../../../src/flags/levels/make-reason.js";
import type { AnswerRow } from "../../../src/series/animal-series.js";

/** Answers as the project defines them: 24 h at most for a danger, else 7 days. */
const hour = 3_600_000;
const day = 24 * hour;
const given = Date.UTC(2025, 4, 10, 8);
const sentence = notice("level-records-end", "problem", { end: 0, hours: 1 });
const reason = (more: Partial<LevelReason> = {}) =>
  makeReason({ level: "second look", what: "refusals", sentence, at: given - 5 * hour, ...more });
const danger = (more: Partial<LevelReason> = {}) =>
  reason({ level: "danger", what: "hot", ...more });
const answer = (more: Partial<AnswerRow> = {}) =>
  ({
    animalId: "P1",
    reason: "refusals",
    at: given,
    by: "Tor",
    until: given + 30 * day,
    note: null,
    origin: { file: "answers.csv", line: 2 },
    ...more,
  }) as AnswerRow;
/** The first reason after the answers were put to it; nothing has changed since unless `before` tells. */
const put = (
  at: number,
  reasons: readonly LevelReason[],
  answers: readonly AnswerRow[],
  before: readonly LevelReason[] = reasons,
) => answeredReasons(reasons, answers, at, () => before)[0]!;
const holds = (...of: Parameters<typeof put>) => put(...of).answered !== null;

describe("an answer", () => {
  it("stands beside the reason it names, with who gave it, until when, and its note", () => {
    const row = answer({ until: given + 2 * day, note: "new teat" });
    expect(put(given + hour, [reason()], [row])).toEqual({
      ...reason(),
      answered: { by: "Tor", at: given, until: given + 2 * day, note: "new teat", row },
    });
    expect(put(given + hour, [reason({ what: "conversion" })], [row]).answered).toBeNull();
    expect(answeredReasons([reason()], [], given, () => [])).toEqual([reason()]);
  });

  it("holds from when it was given until its end, that instant no longer", () => {
    const row = answer({ until: given + 2 * day });
    expect(holds(given - 1, [reason()], [row])).toBe(false);
    expect(holds(given, [reason()], [row])).toBe(true);
    expect(holds(given + 2 * day - 1, [reason()], [row])).toBe(true);
    expect(holds(given + 2 * day, [reason()], [row])).toBe(false);
    expect(holds(given, [reason()], [answer({ until: given })])).toBe(false);
  });

  it.each([
    ["a danger", danger(), "hot", day],
    ["anything else", reason(), "refusals", 7 * day],
  ] as const)("to %s ends on its own, however long it was written for", (_, to, name, most) => {
    const row = answer({ reason: name });
    expect(put(given + most - 1, [to], [row]).answered?.until).toBe(given + most);
    expect(holds(given + most, [to], [row])).toBe(false);
  });

  it("is the newest that still holds, in whatever order they are written", () => {
    const first = answer({ by: "Tor" });
    const second = answer({ by: "Ila", at: given + hour, until: given + 3 * hour });
    for (const rows of [
      [first, second],
      [second, first],
    ]) {
      expect(put(given + 2 * hour, [reason()], rows).answered?.by).toBe("Ila");
      expect(put(given + 3 * hour, [reason()], rows).answered?.by).toBe("Tor");
    }
  });

  it("is to a reason by its name, however it is spelt", () => {
    for (const written of [
      "weigh first",
      " Weigh First ",
      "weigh-first",
      "WEIGH_first",
      "weigh - first",
    ])
      expect(sameName(written, "weigh first")).toBe(true);
    expect(sameName("weigh firsts", "weigh first")).toBe(false);
    expect(sameName("weighfirst", "weigh first")).toBe(false);
  });

  it.each([
    ["fever", "hot", "cold"],
    ["Hypothermia", "cold", "hot"],
    ["low temperature", "cold", "hot"],
    ["high-temperature", "hot", "cold"],
    ["hyperthermia", "hot", "cold"],
    ["acute loss", "loss", "no gain"],
    ["low glucose", "glucose", "loss"],
    ["hypoglycaemia", "glucose", "loss"],
    ["vomit", "repeated vomit", "bloat"],
    ["seizure", "convulsion", "bloat"],
  ])("'%s' is another name of %s and of nothing like %s", (written, name, other) => {
    expect(sameName(written, name)).toBe(true);
    expect(sameName(written, other)).toBe(false);
  });

  it("'temperature' answers cold and hot, 'not eating' a feed missed and no feed", () => {
    expect(["cold", "hot"].map((name) => sameName("temperature", name))).toEqual([true, true]);
    const missing = ["no feed", "missed feed"].map((name) => sameName("not eating", name));
    expect(missing).toEqual([true, true]);
  });
});

describe("an answer no longer holds", () => {
  const at = given + 2 * hour;
  const row = answer();

  it("when another reason of equal or higher level began after it; a lower one leaves it", () => {
    const beside = (
      level: LevelReason["level"],
      begun: number,
      what: LevelReason["what"] = "loss",
    ) => holds(at, [reason(), reason({ level, what, at: begun })], [row]);
    expect(beside("danger", given + 1)).toBe(false);
    expect(beside("second look", given + 1)).toBe(false);
    expect(beside("measure first", given + 1)).toBe(true);
    // It was there when the answer was given.
    expect(beside("danger", given)).toBe(true);
    // The same reason once more is judged by how far it moved.
    expect(beside("second look", given + 1, "refusals")).toBe(true);
  });

  it("when the reason was not there yet, or not as grave", () => {
    expect(holds(at, [reason()], [row], [])).toBe(false);
    expect(holds(at, [reason()], [row], [reason({ what: "loss" })])).toBe(false);
    const hot = answer({ reason: "hot" });
    expect(holds(at, [danger()], [hot], [danger({ level: "second look" })])).toBe(false);
    expect(holds(at, [danger({ level: "second look" })], [hot], [danger()])).toBe(true);
  });

  it("when the value has moved outwards by its step, not when it has come back", () => {
    const sized = (value: number, outwards: "higher" | "lower", step: number) =>
      danger({ size: { value, unit: "degC", outwards, step } });
    const hot = answer({ reason: "hot" });
    const moved = (from: number, to: number, outwards: "higher" | "lower", step = 0.3) =>
      !holds(at, [sized(to, outwards, step)], [hot], [sized(from, outwards, step)]);
    // 0.3 degrees further is further, though 38.9 - 38.6 is a little less in the computer.
    expect(moved(38.6, 38.9, "higher")).toBe(true);
    expect(moved(38.6, 38.89, "higher")).toBe(false);
    expect(moved(38.6, 38.2, "higher")).toBe(false);
    expect(moved(36.2, 35.9, "lower")).toBe(true);
    expect(moved(36.2, 35.91, "lower")).toBe(false);
    expect(moved(36.2, 36.6, "lower")).toBe(false);
    // Of events the step is one more.
    expect(moved(2, 3, "higher", 1)).toBe(true);
    // From too cold to too hot is another matter.
    expect(holds(at, [sized(38.6, "higher", 0.3)], [hot], [sized(36.2, "lower", 0.3)])).toBe(false);
  });

  it("is not lost where nothing is measured on either side", () => {
    const sized = danger({ size: { value: 39, unit: "degC", outwards: "higher", step: 0.3 } });
    const hot = answer({ reason: "hot" });
    expect(holds(at, [sized], [hot], [danger()])).toBe(true);
    expect(holds(at, [danger()], [hot], [sized])).toBe(true);
    expect(holds(at, [danger()], [hot])).toBe(true);
  });

  it("is asked of what stood when the answer was given", () => {
    const asked: number[] = [];
    answeredReasons([reason()], [row], at, (when) => {
      asked.push(when);
      return [reason()];
    });
    expect(asked).toEqual([given]);
  });
});
