import { describe, expect, it } from "vitest";
import { notice } from "../../src/core/notice.js";
import { signAlerts } from "../../src/rates/sign-alerts.js";
import { defaultSignLimits, type SignLimits } from "../../src/rates/sign-limits.js";
import type { Finding, Sign } from "../../src/series/signs/sign.js";

/** Limits are common practice of the project, to be set by the attending veterinarian. */
const hour = 3_600_000;
const sign = (kind: string, h = 0, more: Partial<Sign> = {}) =>
  ({
    kind,
    at: h * hour,
    row: { animalId: "P1" },
    written: "as written",
    state: "present",
    sure: true,
    measure: null,
    count: null,
    amount: null,
    findings: [],
    question: null,
    ...more,
  }) as unknown as Sign;
const finding = (...findings: readonly Finding[]) => sign("exam", 0, { findings });
const of = (signs: readonly Sign[], limits: Partial<SignLimits> = {}) =>
  signAlerts(signs, { ...defaultSignLimits, ...limits });
/** What the last line raised, in short. */
const last = (signs: readonly Sign[], limits: Partial<SignLimits> = {}) =>
  of(signs, limits)
    .filter((a) => a.at === signs.at(-1)!.at)
    .map((a) => (a.act === null ? a.what : `${a.what}: ${a.act}`));
const HOLD = "do not feed until spoken";
const CALL = "call now, feed as ordered";

describe("glucose", () => {
  const glucose = (low: number, high = low, more: Partial<Sign> = {}) =>
    sign("glucose", 0, { measure: { low, high, unit: "mg/dL" }, ...more });
  it.each([
    [39, [`glucose: ${CALL}`]],
    [40, ["signs"]],
    [59, ["signs"]],
    [60, []],
    [250, []],
    [251, ["signs"]],
    [400, ["signs"]],
    [401, [`glucose: ${CALL}`]],
  ])("of %d mg/dL raises %j", (value, raised) => {
    expect(
      of([glucose(value)]).map((a) => (a.act === null ? "signs" : `${a.what}: ${a.act}`)),
    ).toEqual(raised);
  });

  it("in doubt counts by its worse meaning, on either side", () => {
    expect(last([glucose(39, 700)])).toEqual([`glucose: ${CALL}`]);
    expect(last([glucose(80, 401)])).toEqual([`glucose: ${CALL}`]);
    expect(last([glucose(80, 251)])).toEqual(["signs"]);
  });

  it("in a note counts as a line in doubt", () => {
    const said = [
      { kind: "glucose", measure: { low: 32, high: 32, unit: "mg/dL" } },
    ] as unknown as NonNullable<Sign["saidInWords"]>;
    const [alert] = of([sign("exam", 0, { saidInWords: said })]);
    expect(alert).toMatchObject({ level: "danger", what: "glucose", act: CALL, inDoubt: true });
    const other = [
      { kind: "temperature", measure: { low: 32, high: 32, unit: "degC" } },
    ] as unknown as NonNullable<Sign["saidInWords"]>;
    expect(of([sign("exam", 0, { saidInWords: other })])).toEqual([]);
  });

  it("is told with its limits and where they are from", () => {
    const parameters = (value: number, limits = {}) =>
      of([glucose(value)], limits)[0]!.sentence.parameters;
    expect(parameters(34)).toMatchObject({
      animal: "P1",
      from: 40,
      to: 400,
      source: "common practice",
      written: "as written",
      inDoubt: false,
      at: 0,
    });
    expect(parameters(50)).toMatchObject({ from: 60, to: 250 });
    expect(parameters(34, { glucoseDanger: [45, 400] })).toMatchObject({
      from: 45,
      source: "set in study.json",
    });
  });

  it("is judged by what is left where a limit is switched off, and not without a value", () => {
    expect(of([glucose(34)], { glucoseDanger: null }).map((a) => a.level)).toEqual(["second look"]);
    expect(of([glucose(34)], { glucoseDanger: null, glucoseLook: null })).toEqual([]);
    expect(of([sign("glucose")])).toEqual([]);
    expect(of([sign("temperature", 0, { measure: { low: 34, high: 34, unit: "degC" } })])).toEqual(
      [],
    );
  });
});

describe("a body condition", () => {
  const score = (low: number, high = low) =>
    sign("condition score", 0, { measure: { low, high, unit: null } });
  it("up to 1.5 of 5 is looked at", () => {
    expect(last([score(1.5)])).toEqual(["signs"]);
    expect(last([score(1.6)])).toEqual([]);
    expect(last([score(1, 4)])).toEqual(["signs"]);
    expect(of([score(1)])[0]!.sentence.parameters).toMatchObject({
      what: "condition score",
      upTo: 1.5,
      source: "common practice",
    });
    expect(of([score(1)], { conditionLook: 2 })[0]!.sentence.parameters["source"]).toBe(
      "set in study.json",
    );
    expect(last([score(1)], { conditionLook: null })).toEqual([]);
    expect(last([sign("condition score")])).toEqual([]);
    expect(last([sign("length", 0, { measure: { low: 1, high: 1, unit: "cm" } })])).toEqual([]);
  });
});

describe("findings", () => {
  it.each([
    ["cannot be roused", HOLD],
    ["not suckling", HOLD],
    ["convulsion", HOLD],
    ["bloat", HOLD],
    ["trouble breathing", HOLD],
    ["blood", CALL],
    ["dehydrated", CALL],
  ] as const)("'%s' is a danger: %s", (what, act) => {
    const [alert, ...more] = of([finding(what)]);
    expect(more).toEqual([]);
    expect(alert).toMatchObject({
      level: "danger",
      what,
      act,
      inDoubt: false,
      sentence: { level: "problem" },
    });
    expect(alert!.sentence.code).toBe(act === HOLD ? "sign-danger-hold" : "sign-danger-call");
  });

  it.each([
    "lethargic",
    "weak",
    "weak suckle",
    "not eating",
    "shivering",
    "slightly dehydrated",
    "watery stool",
    "hard stool",
    "constipated",
    "straining",
    "foul stool",
    "mucus",
  ] as const)("'%s' is looked at", (what) => {
    const [alert, ...more] = of([finding(what)]);
    expect(more).toEqual([]);
    expect(alert).toMatchObject({
      level: "second look",
      what: "signs",
      act: null,
      sentence: { code: "sign-look", level: "caution", parameters: { what } },
    });
  });

  it("looked at in one line are told together, and not beside a danger", () => {
    expect(of([finding("weak", "shivering")])[0]!.sentence.parameters["what"]).toBe(
      "weak, shivering",
    );
    expect(last([finding("weak", "blood")])).toEqual([`blood: ${CALL}`]);
    expect(last([finding("blood", "dehydrated")])).toEqual([
      `blood: ${CALL}`,
      `dehydrated: ${CALL}`,
    ]);
    expect(last([finding("routine")])).toEqual([]);
  });

  it.each(["bloat", "blood", "convulsion"] as const)(
    "a line of the kind '%s' is one by itself, unless it says none",
    (kind) => {
      expect(of([sign(kind)]).map((a) => a.what)).toEqual([kind]);
      expect(of([sign(kind, 0, { state: "unclear", sure: false })])).toMatchObject([
        { what: kind, inDoubt: true },
      ]);
      expect(of([sign(kind, 0, { state: "none" })])).toEqual([]);
      expect(of([sign(kind, 0, { findings: [kind] })])).toHaveLength(1);
    },
  );

  it("bloat that has settled is looked at; nothing else settles", () => {
    expect(last([sign("bloat", 0, { findings: ["settled"] })])).toEqual(["signs"]);
    expect(last([finding("blood", "settled")])).toEqual([`blood: ${CALL}`]);
    expect(last([sign("bloat", 0, { findings: ["settled", "weak"] })])).toEqual(["signs", "signs"]);
  });
});

describe("vomit", () => {
  const vomits = (...hours: readonly number[]) => hours.map((h) => sign("vomit", h));
  it("once is looked at, twice within 6 h forbids the next feed", () => {
    expect(last(vomits(0))).toEqual(["signs"]);
    expect(last(vomits(0, 6))).toEqual([`repeated vomit: ${HOLD}`]);
    expect(last(vomits(0, 6.01))).toEqual(["signs"]);
    expect(of(vomits(0, 6)).at(-1)!.sentence.parameters).toMatchObject({ n: 2, hours: 6 });
    // The first of two was looked at when it came.
    expect(of(vomits(0, 5)).map((a) => a.level)).toEqual(["second look", "danger"]);
  });

  it("three times in 24 h is a call, however far apart", () => {
    expect(last(vomits(0, 12, 24))).toEqual([`repeated vomit: ${CALL}`]);
    expect(last(vomits(0, 12, 24.01))).toEqual(["signs"]);
    expect(of(vomits(0, 12, 24)).at(-1)!.sentence.parameters).toMatchObject({ n: 3, hours: 24 });
    expect(of(vomits(0, 12)).at(-1)!.sentence.parameters).toMatchObject({ n: 2, hours: 24 });
    expect(of(vomits(0)).at(-1)!.sentence.parameters).toMatchObject({ n: null, hours: null });
  });

  it("counts what a line counts, and lines that tell of it in other words", () => {
    expect(last([sign("vomit", 0, { count: 2 })])).toEqual([`repeated vomit: ${HOLD}`]);
    expect(last([sign("note", 0, { findings: ["vomit"] }), sign("vomit", 3)])).toEqual([
      `repeated vomit: ${HOLD}`,
    ]);
    expect(last([sign("vomit", 0, { state: "none" }), sign("vomit", 3)])).toEqual(["signs"]);
    expect(last([sign("vomit", 0), sign("vomit", 3, { state: "none" })])).toEqual([]);
    expect(last([sign("vomit", 0, { state: "unclear" }), sign("vomit", 3)])).toEqual([
      `repeated vomit: ${HOLD}`,
    ]);
    expect(last([sign("stool", 0), sign("vomit", 3)])).toEqual(["signs"]);
  });

  it("has limits that can be set and switched off", () => {
    expect(last(vomits(0, 5), { vomits: 3 })).toEqual(["signs"]);
    expect(last(vomits(0, 5), { vomits: null })).toEqual(["signs"]);
    expect(last(vomits(0, 5), { vomitsWithinH: 4 })).toEqual(["signs"]);
    expect(last(vomits(0, 1, 2), { vomits: null })).toEqual([`repeated vomit: ${CALL}`]);
    expect(last(vomits(0, 12, 24), { vomitsIn24H: null })).toEqual(["signs"]);
  });
});

describe("stools and regurgitation of 24 h", () => {
  const stools = (what: Finding, ...hours: readonly number[]) =>
    hours.map((h) => sign("stool", h, { findings: [what] }));
  it("three watery ones are a call, three soft or watery ones a look", () => {
    expect(last(stools("watery stool", 0, 12, 24))).toContain(`watery stool: ${CALL}`);
    expect(last(stools("watery stool", 0, 12, 24.1))).not.toContain(`watery stool: ${CALL}`);
    expect(last(stools("watery stool", 0, 12))).toEqual(["signs"]);
    expect(last(stools("soft stool", 0, 12, 24))).toEqual(["signs"]);
    expect(last(stools("soft stool", 0, 12))).toEqual([]);
    const mixed = [...stools("soft stool", 0, 3), ...stools("watery stool", 6)];
    expect(of(mixed).at(-1)!.sentence.parameters).toMatchObject({
      what: "soft stool",
      n: 3,
      hours: 24,
    });
    // A call is not looked at besides.
    const whats = of(stools("watery stool", 0, 1, 2))
      .filter((a) => a.at === 2 * hour)
      .map((a) => a.sentence.parameters["what"]);
    expect(whats).not.toContain("soft stool");
    expect(of(stools("watery stool", 0, 1, 2)).at(-1)!.sentence.parameters).toMatchObject({
      n: 3,
      hours: 24,
    });
    // Soft, told in a note, is no stool.
    expect(
      last([...stools("soft stool", 0, 1), sign("note", 2, { findings: ["soft stool"] })]),
    ).toEqual([]);
    expect(last([...stools("soft stool", 0, 1), sign("stool", 2)])).toEqual([]);
    expect(last([sign("stool", 0, { findings: ["soft stool"], count: 3 })])).toEqual(["signs"]);
  });

  it("three regurgitations are a look", () => {
    const times = (...hours: readonly number[]) => hours.map((h) => sign("regurgitation", h));
    expect(last(times(0, 12, 24))).toEqual(["signs"]);
    expect(last(times(0, 12, 24.1))).toEqual([]);
    expect(of(times(0, 1, 2))[0]!.sentence.parameters).toMatchObject({
      what: "regurgitation",
      n: 3,
      hours: 24,
    });
  });

  it("have limits that can be switched off", () => {
    expect(last(stools("watery stool", 0, 1, 2), { wateryStools: null })).toEqual([
      "signs",
      "signs",
    ]);
    expect(last(stools("soft stool", 0, 1, 2), { softStools: null })).toEqual([]);
    const times = [0, 1, 2].map((h) => sign("regurgitation", h));
    expect(last(times, { regurgitations: null })).toEqual([]);
    expect(last(times, { regurgitations: 4 })).toEqual([]);
  });
});

describe("a line that cannot be read", () => {
  const question = notice("level-records-end", "problem", { end: 0, hours: 1 });
  it("is looked at word for word where something hangs on it and it raises nothing else", () => {
    expect(of([sign("stool", 4, { question, sure: false })])).toEqual([
      {
        level: "second look",
        what: "entry not read",
        act: null,
        at: 4 * hour,
        inDoubt: true,
        sentence: question,
      },
    ]);
    expect(of([sign("length", 0, { question })])).toEqual([]);
    expect(last([sign("vomit", 0, { question })])).toEqual(["signs"]);
  });
});
