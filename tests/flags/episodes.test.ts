import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { notice } from "../../src/core/notice.js";
import { countOpenings, nextEpisodeState } from "../../src/flags/animal-day/episode-rule.js";
import type { Signal, SignalKind } from "../../src/flags/animal-day/signal.js";
import {
  closeWithRecord,
  type EpisodeMemory,
  nextEpisode,
  noEpisodes,
} from "../../src/flags/episodes.js";
import { addDays } from "../../src/units/calendar.js";

const signal = (kind: SignalKind, strength: number, cls: Signal["class"] = "statistical"): Signal =>
  ({
    kind,
    class: cls,
    direction: "low",
    raised: strength >= 1,
    strength,
    value: { value: strength, unit: "1" },
    threshold: 1,
    evidence: { surpriseToday: null },
    sentence: notice("flags-no-diagnosis", "info"),
    // What stands behind a signal plays no part in episodes.
  }) as Signal;

/** Feeds days of signals through the memory; null is a day not judged. */
function run(days: readonly (readonly Signal[] | null)[], acknowledgedOn: number[] = []) {
  const acks = acknowledgedOn.map((d) => ({
    animalId: "A",
    on: addDays("2031-05-01", d),
    by: "vet",
    note: "seen",
  }));
  let memory: EpisodeMemory = noEpisodes;
  const trail: EpisodeMemory[] = [];
  days.forEach((signals, i) => {
    const all = signals ?? [];
    const statistical = all.filter((s) => s.class === "statistical");
    const strength = signals === null ? null : Math.max(0, ...statistical.map((s) => s.strength));
    memory = nextEpisode(
      memory,
      "A",
      addDays("2031-05-01", i),
      all.filter((s) => s.raised),
      strength,
      acks,
    );
    trail.push(memory);
  });
  return trail;
}

describe("the rule of episodes", () => {
  it("opens at 1 and closes after 2 judged days below the lower threshold", () => {
    // Definition of this project: closes after 2 judged days below the lower threshold (0.8).
    expect(countOpenings([0.9, 1, 0.7, 0.8, 0.7, 0.9, 0.7, 0.7, 1.2])).toBe(2);
    expect(countOpenings([1.1, 0.7, 1.1, 0.7, 1.1])).toBe(1);
    expect(countOpenings([1.1, 0.7, 0.7, 1.1])).toBe(2);
  });

  it("counts the same whether stepped or counted", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 2, noNaN: true }), { maxLength: 60 }), (s) => {
        let state = { open: false, below: 0 };
        let openings = 0;
        for (const x of s) {
          const next = nextEpisodeState(state, x);
          if (next.open && !state.open) openings++;
          state = next;
        }
        expect(openings).toBe(countOpenings(s));
      }),
    );
  });
});

describe("episodes of one animal", () => {
  it("keep one entry for many signals and days", () => {
    const trail = run([
      [signal("gain", 1.2)],
      [signal("gain", 1.3), signal("slowed gain", 1.1)],
      [signal("slowed gain", 1.4)],
    ]);
    const { current } = trail.at(-1)!;
    expect(current!.openedOn).toBe("2031-05-01");
    expect(current!.signals.map((s) => [s.kind, s.firstOn, s.lastOn, s.greatestStrength])).toEqual([
      ["gain", "2031-05-01", "2031-05-02", 1.3],
      ["slowed gain", "2031-05-02", "2031-05-03", 1.4],
    ]);
    expect(trail.at(-1)!.past).toEqual([]);
  });

  it("close with a date, and days not judged do not count towards closing", () => {
    const low = [signal("gain", 0.2)];
    const closed = run([[signal("gain", 1.2)], low, low]).at(-1)!;
    expect(closed.current).toBeNull();
    expect(closed.past[0]!.closedOn).toBe("2031-05-03");
    const waiting = run([[signal("gain", 1.2)], null, null, null, null, low]).at(-1)!;
    expect(waiting.current).not.toBeNull();
  });

  it("are never kept silent by an acknowledgement when a new signal comes", () => {
    const trail = run(
      [
        [signal("gain", 1.2)],
        [signal("gain", 1.2)],
        [signal("gain", 1.2), signal("temperature", 1.3, "danger")],
      ],
      [0],
    );
    expect(trail[1]!.current!.acknowledged?.note).toBe("seen");
    expect(trail[2]!.current!.acknowledged).toBeNull();
    expect(trail[2]!.current!.reopened).toEqual([{ on: "2031-05-03", why: "new signal" }]);
  });

  it("reopen at a deviation half as large again, not below", () => {
    const up = (x: number) => run([[signal("gain", 1.2)], [signal("gain", x)]], [0])[1]!.current!;
    expect(up(1.79).acknowledged).not.toBeNull();
    expect(up(1.8).reopened).toEqual([{ on: "2031-05-02", why: "half as large again" }]);
  });

  it("open for a danger without any weighing, and never depend on the budget", () => {
    const { current } = run([[signal("temperature", 1.1, "danger")]])[0]!;
    expect(current!.openedBy).toBe("rule");
  });

  it("closes what is open when the record ends, says so, and begins anew after it", () => {
    const open = nextEpisode(noEpisodes, "P07", "2031-05-03", [signal("level", 1.2)], 1.2, []);
    const ended = closeWithRecord(open, "2031-05-05");
    expect(ended.current).toBeNull();
    expect(ended.past).toMatchObject([{ closedOn: "2031-05-05", endedWithRecord: true }]);
    expect(closeWithRecord(noEpisodes, "2031-05-05")).toBe(noEpisodes);
  });
});
