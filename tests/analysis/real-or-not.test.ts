import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { animalOf } from "../../src/analysis/animal-of.js";
import type { EvidenceByQuestion, RealAnswer } from "../../src/analysis/real-answer.js";
import { realOrNot } from "../../src/analysis/real-or-not.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { ScaleCheckRow, Study, WeighingRow } from "../../src/records/study.js";

/** The invented demo study with one thing made wrong each time: that thing must be answered. */
const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));
const id = "O24-02";
const onDay = "2024-04-20";
const end = Date.parse("2024-04-21T08:30:00Z");
const dayMs = 86_400_000;

describe("is the slow gain real", () => {
  let study: Study;
  beforeAll(async () => {
    const all = await readStudy(demo);
    // Otters of two seasons are enough, and quick.
    const kept = (row: { readonly animalId: string | null }) => /^O2[34]/.test(row.animalId ?? "");
    study = {
      ...all,
      tables: {
        ...all.tables,
        animals: all.tables.animals.filter(kept),
        weighings: all.tables.weighings.filter(kept),
        feeds: all.tables.feeds.filter(kept),
        observations: all.tables.observations.filter(kept),
        plans: all.tables.plans.filter(kept),
      },
    };
  });
  const answersOf = async (tables: Partial<Study["tables"]>) => {
    const { value } = await analyse(
      { ...study, tables: { ...study.tables, ...tables } },
      { onDay },
    );
    const result = realOrNot(value, animalOf(value, id)).value;
    const of = <Question extends keyof EvidenceByQuestion>(question: Question) =>
      result.answers.find((a): a is RealAnswer<Question> => a.question === question)!;
    return { result, of };
  };
  const own = (change: (w: WeighingRow) => WeighingRow) => ({
    weighings: study.tables.weighings.map((w) => (w.animalId === id ? change(w) : w)),
  });
  const codes = (a: RealAnswer) => a.sentences.map((s) => s.code);

  it("answers the four questions in their order", async () => {
    const { result } = await answersOf({});
    expect(result.answers.map((a) => a.question)).toEqual(["scale", "coat", "meal", "swap"]);
    expect(result.conclusion.code).toBe("real-nothing-found");
  });

  it("cannot tell the scale without a check, and says when the last one was", async () => {
    const { of, result } = await answersOf({
      scaleChecks: study.tables.scaleChecks.filter((c) => c.at < end - 60 * dayMs),
    });
    expect(of("scale").verdict).toBe("cannot be told");
    const open = of("scale").sentences.find((s) => s.code === "real-scale-unchecked")!;
    expect(open.parameters["ago"]).toBeGreaterThanOrEqual(60);
    expect(result.conclusion.code).toBe("real-open");
  });

  it("concludes the scale from one failed check, never from others that are slow", async () => {
    const fail = (c: ScaleCheckRow): ScaleCheckRow =>
      c.scaleId === "bench-1" && c.at > end - 7 * dayMs ? { ...c, readingG: c.knownG - 90 } : c;
    const { of } = await answersOf({ scaleChecks: study.tables.scaleChecks.map(fail) });
    expect(of("scale").verdict).toBe("found");
    const failed = of("scale").sentences.find((s) => s.code === "real-scale-failed")!;
    // By hand: 90 of 2000 g is 4.5 %; the true load is the reading over 0.955.
    expect(failed.parameters["offPct"]).toBeCloseTo(4.5, 9);
    const mass = failed.parameters["mass"] as number;
    const corrected = failed.parameters["corrected"] as number;
    expect(corrected - mass).toBeGreaterThan(mass * (1 / 0.955 - 1));
  });

  it("concludes the scale where two scales disagree on the same animals, not from one pair", async () => {
    const rows = study.tables.weighings.filter(
      (w) => w.animalId !== id && w.scaleId === "bench-1" && w.at > end - 14 * dayMs && w.at < end,
    );
    const again = (n: number) => ({
      weighings: [
        ...study.tables.weighings,
        ...rows.slice(0, n).map((w) => ({
          ...w,
          at: w.at + 60_000,
          scaleId: "spare",
          massG: w.massG + 0.08 * w.massG,
        })),
      ],
    });
    expect((await answersOf(again(8))).of("scale").verdict).toBe("found");
    expect(codes((await answersOf(again(8))).of("scale"))).toContain("real-scales-disagree");
    expect((await answersOf(again(1))).of("scale").verdict).not.toBe("found");
  });

  it("cannot tell coat and meal where they are not written", async () => {
    const { of } = await answersOf({
      ...own((w) => ({ ...w, coat: null, meal: "unknown" as const })),
      feeds: study.tables.feeds.filter((f) => f.animalId !== id),
    });
    expect(of("coat").verdict).toBe("cannot be told");
    expect(of("meal").verdict).toBe("cannot be told");
  });

  it("finds the coat where wet weighings at the beginning make the gain slow", async () => {
    // A 20 % heavier coat until the middle of the window: without it the gain returns.
    const { of } = await answersOf(
      own((w) =>
        w.at > end - 40 * dayMs && w.at < end - 22 * dayMs
          ? { ...w, coat: "wet" as const, massG: Math.round(w.massG * 1.08) }
          : w,
      ),
    );
    expect(["found", "cannot be told"]).toContain(of("coat").verdict);
    const coat = of("coat").evidence;
    expect(coat.dampOrWet).toBeGreaterThan(5);
    if (of("coat").verdict === "found")
      expect(coat.gainWithoutGPerD!).toBeGreaterThan(coat.gainAllGPerD!);
  });

  it("finds two animals exchanged for a week", async () => {
    const other = "O24-01";
    const { of } = await answersOf({
      weighings: study.tables.weighings.map((w) =>
        w.at < end - 6 * dayMs || (w.animalId !== id && w.animalId !== other)
          ? w
          : { ...w, animalId: w.animalId === id ? other : id },
      ),
    });
    expect(of("swap").verdict).toBe("found");
    expect(of("swap").sentences.some((s) => Object.values(s.parameters).includes(other))).toBe(
      true,
    );
  });
});
