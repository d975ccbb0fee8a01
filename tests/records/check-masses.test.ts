import { describe, expect, it } from "vitest";
import type { Notice } from "../../src/core/notice.js";
import { checkMasses } from "../../src/records/check-masses.js";
import type { DraftRow } from "../../src/records/draft-row.js";
import type { Rows } from "../../src/records/rows.js";
import type { StudySettings } from "../../src/records/study.js";

/**
 * The sea otter's profile: unusual outside 1000 to 7000 g, impossible outside 500 to 14,000 g at
 * ten days. A pound is 0.45359237 kg (international, exact).
 */
const settings = { zone: "UTC", speciesOverrides: {} } as unknown as StudySettings;
const born = "2025-05-01";
const at = Date.UTC(2025, 4, 11, 12);
interface Draft {
  fault: { column: string; value: string; reason: Notice; suggestion: Notice } | null;
  readonly notes: Notice[];
}
const draft = (values: Record<string, unknown>, fault: unknown = null) => {
  const notes: Notice[] = [];
  return {
    file: "weighings.csv",
    table: "weighings",
    line: 7,
    fault,
    notes,
    get: (key: string) => values[key],
    note: (n: Notice) => notes.push(n),
    columnOf: () => -1,
    cellRead: () => "",
    of: { places: new Map(), index: new Map() },
    raw: [],
  } as unknown as DraftRow & Draft;
};
const animal = (more: Record<string, unknown> = {}, fault: unknown = null) =>
  draft({ animalId: "P1", species: "sea otter", birthDateEarliest: born, ...more }, fault);
const check = (weighing: Record<string, unknown>, animals = [animal()], fault: unknown = null) => {
  const row = draft({ animalId: "P1", at, massG: 2000, tareG: 0, ...weighing }, fault);
  checkMasses([row] as unknown as Rows<DraftRow>, animals as unknown as Rows<DraftRow>, settings);
  return row;
};
const is = (...a: Parameters<typeof check>) => {
  const row = check(...a);
  return row.fault !== null ? row.fault.reason.code : (row.notes[0]?.code ?? "accepted");
};

describe("a mass", () => {
  it.each([
    [1000, "accepted"],
    [999, "records-mass-unusual"],
    [7000, "accepted"],
    [7001, "records-mass-unusual"],
    [500, "records-mass-unusual"],
    [14_000, "records-mass-unusual"],
    // Ten times less would do, and so would a tenth, a thousandth, a pound for a kilogram.
    [14_001, "records-mass-slip-likely"],
    [499, "records-mass-slip-likely"],
    [2.5, "records-mass-slip-likely"],
    [2_500_000, "records-mass-slip-likely"],
    [99, "records-mass-impossible"],
    [71_000, "records-mass-impossible"],
  ])("of %d g is %s", (massG, what) => {
    expect(is({ massG })).toBe(what);
  });

  it("is less its tare, so that a box is no part of it", () => {
    expect(is({ massG: 7400, tareG: 500 })).toBe("accepted");
    expect(is({ massG: 1400, tareG: 500 })).toBe("records-mass-unusual");
    expect(is({ massG: 2000, tareG: null })).toBe("accepted");
    // A tare that leaves nothing is another matter: the reading itself is judged.
    expect(is({ massG: 2000, tareG: 2000 })).toBe("accepted");
    expect(is({ massG: 2000, tareG: 3000 })).toBe("accepted");
  });

  it("that may be pounds for kilograms, or the other way, is accepted and asked about", () => {
    // Of an older animal: 15,000 g written as 33,069, and 600 lb-for-kg.
    expect(is({ massG: 15_400 })).toBe("records-mass-slip-likely");
    expect(is({ massG: 480 })).toBe("records-mass-slip-likely");
  });

  it("is told with its limits, its place and its animal", () => {
    const unusual = check({ massG: 800 }).notes[0]!;
    expect(unusual).toMatchObject({
      level: "caution",
      parameters: { net: 800, low: 1000, high: 7000, species: "sea otter" },
      place: { file: "weighings.csv", table: "weighings", line: 7, column: "mass_g", animal: "P1" },
    });
    expect(check({ massG: 2.5 }).notes[0]).toMatchObject({
      level: "problem",
      parameters: { low: 500, high: 14_000 },
    });
    const aside = check({ massG: 99 });
    expect(aside.notes).toEqual([]);
    expect(aside.fault).toMatchObject({
      column: "mass_g",
      reason: { level: "problem", parameters: { net: 99 } },
      suggestion: { code: "suggest-check-value" },
    });
  });

  it("is judged by the age at which it was taken, before birth as on its day, unknown by the widest limits", () => {
    const on = (when: number, massG: number, birthDateEarliest: string | null = born) =>
      is({ at: when, massG }, [animal({ birthDateEarliest })]);
    expect(on(Date.UTC(2025, 3, 20), 2000)).toBe("accepted");
    expect(on(at, 8000)).toBe("records-mass-unusual");
    expect(on(Date.UTC(2026, 4, 1), 8000)).toBe("accepted");
    expect(on(at, 8000, null)).toBe("accepted");
  });

  it("is not judged without an animal that can be used, without limits, or where it is no number", () => {
    expect(is({ massG: 99 }, [])).toBe("accepted");
    expect(is({ massG: 99 }, [animal({}, {})])).toBe("accepted");
    expect(is({ massG: 99, animalId: "P2" })).toBe("accepted");
    expect(is({ massG: 42 }, [animal({ species: "chick" })])).toBe("accepted");
    expect(is({ massG: null })).toBe("accepted");
    const before = { reason: { code: "set aside before" } };
    expect(is({ massG: 99 }, [animal()], before)).toBe("set aside before");
  });

  it("of each animal is judged by its own species", () => {
    const rows = [
      draft({ animalId: "P1", at, massG: 99, tareG: 0 }),
      draft({ animalId: "C1", at, massG: 99, tareG: 0 }),
    ];
    const animals = [animal(), animal({ animalId: "C1", species: "chick" })];
    checkMasses(rows as unknown as Rows<DraftRow>, animals as unknown as Rows<DraftRow>, settings);
    expect(rows.map((r) => r.fault === null)).toEqual([false, true]);
  });
});
