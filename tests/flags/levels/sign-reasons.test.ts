import { describe, expect, it } from "vitest";
import { signReasons } from "../../../src/flags/levels/sign-reasons.js";
import { hour } from "../../rates/small-study.js";
import { at, type CaseParts, caseOf, type SeenLine, seen } from "./case-of.js";

/** Limits: common practice of the project (two vomits within 6 h, glucose 40 and 60 mg/dL). */
const of = (parts: CaseParts) => signReasons(caseOf(parts));
const whats = (parts: CaseParts) => of(parts).map((r) => `${r.level}: ${r.what}`);

describe("the signs of the last 24 h", () => {
  it("raise each kind once, dated from its first line, counted by its lines", () => {
    const [reason, ...more] = of(
      seen([9, "stool", "bloody"], [5, "stool", "formed"], [3, "stool", "bloody"]),
    );
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "danger",
      what: "blood",
      act: "call now, feed as ordered",
      at: at - 9 * hour,
      byAt: at,
      suggestionsWait: true,
      size: { value: 2, unit: "lines", outwards: "higher", step: 1 },
    });
    expect(reason!.sentence.parameters["at"]).toBe(at - 3 * hour);
  });

  it("keep what is looked at apart from what is a danger", () => {
    const found = of(seen([9, "behaviour", "lethargic"], [3, "stool", "bloody"]));
    expect(found.map((r) => [r.level, r.what, r.byAt, r.suggestionsWait])).toEqual([
      ["second look", "signs", null, false],
      ["danger", "blood", at, true],
    ]);
  });

  it("raise nothing of an animal that is bright", () => {
    expect(of(seen([3, "behaviour", "bright"], [2, "stool", "formed"]))).toEqual([]);
  });

  it("make suggestions wait after any bloat, one that has settled included", () => {
    const waits = (...lines: readonly SeenLine[]) =>
      of(seen(...lines)).map((r) => r.suggestionsWait);
    expect(waits([9, "behaviour", "lethargic"])).toEqual([false]);
    expect(waits([9, "behaviour", "lethargic"], [8, "bloat", "none"])).toEqual([false]);
    const slight = of(seen([9, "behaviour", "lethargic"], [8, "bloat", "slight"]));
    expect(slight.find((r) => r.what === "signs")!.suggestionsWait).toBe(true);
    const dayOld = of(seen([9, "behaviour", "lethargic"], [24, "bloat", "slight"]));
    expect(dayOld.map((r) => r.suggestionsWait)).toEqual([false]);
    const almost = of(seen([9, "behaviour", "lethargic"], [23.9, "bloat", "slight"]));
    expect(almost.find((r) => r.what === "signs")!.suggestionsWait).toBe(true);
    const noted = of(seen([9, "behaviour", "lethargic"], [8, "exam", "slightly bloated"]));
    expect(noted.find((r) => r.what === "signs")!.suggestionsWait).toBe(true);
  });
});

describe("what forbids the next feed", () => {
  it("is not lifted by a later line that does not", () => {
    // Twice within the hour, and a third eighteen hours later: three in 24 h ask for a call only.
    const lines = [
      [20, "vomit", "once"],
      [19, "vomit", "once"],
      [1, "vomit", "once"],
    ] as const;
    const reason = of(seen(...lines)).find((r) => r.what === "repeated vomit");
    expect(reason).toMatchObject({ act: "do not feed until spoken", at: at - 19 * hour });
    expect(reason!.sentence.parameters["at"]).toBe(at - 19 * hour);
    // Each time within the hour: the newest of them is told.
    const twice = of(seen(lines[0], lines[1], [3, "vomit", "once"], [2, "vomit", "once"]));
    expect(twice.find((r) => r.what === "repeated vomit")!.sentence.parameters["at"]).toBe(
      at - 2 * hour,
    );
  });
});

describe("a line that cannot be read", () => {
  it("and counts by its worse meaning stands word for word beside that", () => {
    const stands = (hoursBack: number) =>
      of(seen([hoursBack, "vomit", "???"])).filter((r) => r.what === "entry not read");
    expect(stands(3)).toMatchObject([{ level: "second look", at: at - 3 * hour }]);
    expect(stands(3)[0]!.sentence.parameters["written"]).toBe("???");
    expect(stands(23.9)).toHaveLength(1);
    expect(stands(24)).toEqual([]);
  });

  it("is told once where it raises nothing else, and not where nothing hangs on it", () => {
    const told = of(seen([3, "stool", "???"])).filter((r) => r.what === "entry not read");
    expect(told).toHaveLength(1);
    expect(of(seen([3, "length", "???"]))).toEqual([]);
  });
});

describe("glucose", () => {
  const size = (...lines: readonly (readonly [number, string])[]) =>
    of(seen(...lines.map(([h, v]) => [h, "glucose", `${v} mg/dL`] as const))).find(
      (r) => r.what === "glucose",
    )?.size;

  it("is as far out as the worst value that was raised, and a tenth of it is a step", () => {
    expect(size([9, "34"], [3, "38"])).toEqual({
      value: 34,
      unit: "mg/dL",
      outwards: "lower",
      step: 0.1 * 34,
    });
    expect(size([9, "450"], [3, "420"])).toMatchObject({
      value: 450,
      outwards: "higher",
      step: 45,
    });
  });

  it("both too low and too high is told by the one further from what is looked at", () => {
    // 26 below 60, 170 above 250.
    expect(size([9, "34"], [3, "420"])).toMatchObject({ value: 420, outwards: "higher" });
  });

  it("is sized by lines of glucose that were raised, not by others of that minute", () => {
    const parts = seen(
      [9, "glucose", "34 mg/dL"],
      [9, "temperature", "30.5"],
      [3, "glucose", "90 mg/dL"],
      [2, "glucose", "see sheet"],
    );
    const [reason] = of(parts).filter((r) => r.what === "glucose");
    expect(reason!.size).toMatchObject({ value: 34, outwards: "lower" });
    // A value of the day before yesterday is no size of today.
    const older = seen([40, "glucose", "20 mg/dL"], [9, "glucose", "34 mg/dL"]);
    expect(of(older).find((r) => r.what === "glucose")!.size!.value).toBe(34);
  });

  it("is told as low where no look is set", () => {
    const [reason] = of({ ...seen([9, "glucose", "34 mg/dL"]), limits: { glucoseLook: null } });
    expect(reason!.size).toMatchObject({ value: 34, outwards: "lower" });
  });
});

describe("what came up", () => {
  it("as vomit and as regurgitation within 6 h is more than one of each", () => {
    const [reason, ...more] = of(seen([7, "regurgitation", "once"], [1, "vomit", "once"])).filter(
      (r) => r.what === "repeated vomit",
    );
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "danger",
      act: "do not feed until spoken",
      at: at - 7 * hour,
      byAt: at,
      size: { value: 2, unit: "lines", outwards: "higher", step: 1 },
    });
    expect(reason!.sentence.parameters).toMatchObject({ n: 2, hours: 6, at: at - hour });
  });

  const raised = (...lines: readonly SeenLine[]) =>
    whats(seen(...lines)).includes("danger: repeated vomit");
  it("further apart than 6 h, or over a day ago, is not", () => {
    expect(raised([7.1, "regurgitation", "once"], [1, "vomit", "once"])).toBe(false);
    expect(raised([24, "regurgitation", "once"], [23, "vomit", "once"])).toBe(false);
    expect(raised([23.9, "regurgitation", "once"], [23, "vomit", "once"])).toBe(true);
  });

  it("needs a vomit among it, and counts what a line counts", () => {
    expect(raised([3, "regurgitation", "once"], [2, "regurgitation", "once"])).toBe(false);
    expect(raised([3, "regurgitation", "2x"])).toBe(false);
    expect(raised([3, "regurgitation", "none"], [2, "vomit", "once"])).toBe(false);
    expect(raised([2, "vomit", "once"])).toBe(false);
    // The pair of the morning counts, whatever came later.
    expect(
      raised([20, "vomit", "once"], [19, "regurgitation", "once"], [2, "regurgitation", "once"]),
    ).toBe(true);
  });

  it("is found in notes and exams too", () => {
    expect(raised([3, "regurgitation", "once"], [2, "note", "vomited after the bottle"])).toBe(
      true,
    );
    expect(raised([3, "exam", "regurgitated a little"], [2, "vomit", "once"])).toBe(true);
  });

  it("is told once, and not at all where the limit is switched off", () => {
    expect(
      whats(seen([5, "regurgitation", "once"], [3, "vomit", "once"], [2, "vomit", "once"])).filter(
        (w) => w === "danger: repeated vomit",
      ),
    ).toHaveLength(1);
    const off = {
      ...seen([3, "regurgitation", "once"], [2, "vomit", "once"]),
      limits: { vomits: null },
    };
    expect(whats(off)).not.toContain("danger: repeated vomit");
  });
});
