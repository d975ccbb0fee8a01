import { describe, expect, it } from "vitest";
import type { PreparedAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { excretionSignal } from "../../../src/flags/rules/excretion-signal.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import type { WhatIsWritten, WritingHabit } from "../../../src/flags/rules/what-is-written.js";
import { dayMs, first, found } from "./fed-days.js";

/** Common practice: 48 h without a stool or urine in the very young, under 28 days. */
const hour = 3_600_000;
const span = { day: "2025-05-10", from: first + 9 * dayMs, to: first + 10 * dayMs, hours: 24 };
interface Asked {
  readonly seen?: readonly number[];
  readonly kind?: "stool" | "urine";
  readonly ageD?: number | null;
  readonly admittedAt?: number | null;
  readonly habit?: Partial<WritingHabit>;
  readonly until?: number;
  readonly limits?: Partial<RuleLimits>;
}
const of = ({
  seen = [],
  kind = "stool",
  ageD = 10,
  admittedAt = null,
  habit,
  until,
  limits,
}: Asked) => {
  const animal = {
    id: "P1",
    series: { animal: { admittedAt } },
    excretedAt: { stool: kind === "stool" ? seen : [], urine: kind === "urine" ? seen : [] },
  } as unknown as PreparedAnimal;
  const written = {
    until: () => until ?? span.to,
    habit: () => ({ days: 0, gapsPct: null, animals: 0, ...habit }),
  } as WhatIsWritten;
  const all = { ...defaultRuleLimits, ...limits };
  return excretionSignal(animal, span.day, span, ageD, kind, written, all);
};
const is = (asked: Asked) => found(of(asked))[0];

describe("a stool or urine that is not written", () => {
  it.each([
    ["stool", "no stool"],
    ["urine", "no urine"],
  ] as const)("of %s for 48 h is a danger", (kind, what) => {
    expect(is({ kind, seen: [span.to - 48 * hour + 1] })).toBe("within");
    const [signal] = of({ kind, seen: [span.to - 60 * hour] }) as Signal[];
    expect(signal).toMatchObject({
      class: "danger",
      kind: what,
      direction: "low",
      raised: true,
      strength: 1.25,
      threshold: 48,
      value: { value: 60, unit: "h" },
      evidence: { hours: 60, lastAt: span.to - 60 * hour, admittedAt: null },
      sentence: {
        code: "flag-no-excretion",
        parameters: { animal: "P1", kind, hours: 60, last: span.to - 60 * hour, limit: 48 },
      },
    });
    expect(is({ kind, seen: [span.to - 48 * hour] })).toBe("raised");
  });

  it("is measured from the last one, and until somebody wrote", () => {
    expect(is({ seen: [span.to - 90 * hour, span.to - 10 * hour] })).toBe("within");
    expect(is({ seen: [span.to - 60 * hour], until: span.to - 12 * hour - 1 })).toBe("within");
    expect(is({ seen: [span.to - 60 * hour], until: span.to - 12 * hour })).toBe("raised");
    // One of the next day is not known yet; one of the day's last moment is.
    expect(is({ seen: [span.to - 60 * hour, span.to] })).toBe("raised");
    expect(is({ seen: [span.to - 60 * hour, span.to - 1] })).toBe("within");
    const [early] = of({ seen: [span.to - 1], until: span.to - 5 * hour }) as Signal[];
    expect(early!.value.value).toBe(0);
  });

  it("has limits of its own for each, that can be switched off", () => {
    expect(of({ seen: [0], limits: { stoolH: null } })).toEqual([]);
    expect(of({ seen: [0], kind: "urine", limits: { urineH: null } })).toEqual([]);
    expect(is({ seen: [span.to - 50 * hour], limits: { stoolH: 51 } })).toBe("within");
    expect(is({ kind: "urine", seen: [span.to - 50 * hour], limits: { stoolH: 51 } })).toBe(
      "raised",
    );
    expect(is({ kind: "urine", seen: [span.to - 50 * hour], limits: { urineH: 51 } })).toBe(
      "within",
    );
  });

  it("is asked of the very young; of unknown age by how long it has been in care", () => {
    const seen = [span.to - 60 * hour];
    expect(is({ seen, ageD: 27.9 })).toBe("raised");
    expect(is({ seen, ageD: 28 })).toBe("flag-old-enough");
    expect(of({ seen, ageD: 30 })[0]).toMatchObject({
      kind: "no stool",
      why: { parameters: { animal: "P1", kind: "stool", age: 30, limit: 28 } },
    });
    expect(is({ seen, ageD: null, admittedAt: span.from - 27 * dayMs })).toBe("raised");
    expect(is({ seen, ageD: null, admittedAt: span.from - 28 * dayMs })).toBe("flag-old-enough");
    expect(is({ seen, ageD: null })).toBe("raised");
  });
});

describe("how regularly such lines are written", () => {
  const seen = [span.to - 60 * hour];
  it("decides whether their absence says anything: gaps on over 1 % of 30 days, in three animals", () => {
    const gaps = (days: number, gapsPct: number, animals: number, limits = {}) =>
      is({ seen, habit: { days, gapsPct, animals }, limits });
    expect(gaps(30, 1.1, 3)).toBe("flag-excretion-not-written");
    expect(gaps(30, 1, 3)).toBe("raised");
    expect(gaps(29, 50, 3)).toBe("raised");
    expect(gaps(30, 50, 2)).toBe("raised");
    expect(gaps(30, 50, 3, { excretionGapsPct: null })).toBe("raised");
    expect(of({ seen, habit: { days: 40, gapsPct: 5, animals: 4 } })[0]).toMatchObject({
      why: { parameters: { gaps: 5, days: 40, limit: 48 } },
    });
  });

  it("lets a newcomer without any be judged from its admission on", () => {
    const admittedAt = span.to - 50 * hour;
    expect(is({ admittedAt })).toBe("flag-never-recorded");
    expect(is({ admittedAt, habit: { days: 29, gapsPct: 0 } })).toBe("flag-never-recorded");
    const [signal] = of({ admittedAt, habit: { days: 30, gapsPct: 0 } }) as Signal[];
    expect(signal).toMatchObject({
      raised: true,
      evidence: { hours: 50, lastAt: null, admittedAt },
      sentence: { code: "flag-no-excretion-yet", parameters: { last: admittedAt } },
    });
    expect(is({ habit: { days: 30, gapsPct: 0 } })).toBe("flag-never-recorded");
  });
});
