import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { buildReference, centilesThatCannotCross } from "../../src/reference/build-reference.js";
import { checkReference } from "../../src/reference/check-reference.js";
import { referenceZ } from "../../src/reference/reference-table.js";

/** Invented animals whose true median and spread are known. */
function invented(animals: number, seed: number) {
  const random = seededRandom(seed);
  return Array.from({ length: animals }, (_, i) => {
    const own = random.normal();
    return Array.from({ length: 20 }, (_, k) => {
      const ageD = 5 + 3 * k + 2 * random.uniform();
      const z = 0.9 * own + Math.sqrt(1 - 0.81) * random.normal();
      return { animalId: `A${i}`, ageD, massG: median(ageD) * Math.exp(0.12 * z) };
    });
  }).flat();
}
const median = (ageD: number) => 1900 * Math.exp(1.05 * (1 - Math.exp(-0.011 * ageD)));

describe("a reference from own seasons", () => {
  const built = buildReference(invented(60, 20310501), { power: "estimated" });

  it("finds the true median and spread within what 60 animals allow", () => {
    // Standard error of a median of 60 animals with 12 % spread is about 1.9 %; of the spread about 9 %.
    const { table } = built.value!;
    for (const row of table.rows.filter((r) => r.ageD % 10 === 0)) {
      expect(Math.abs(row.m / median(row.ageD) - 1)).toBeLessThan(0.05);
      expect(Math.abs(row.s / 0.12 - 1)).toBeLessThan(0.3);
    }
    expect(built.diagnostics["stoppedBy"]).toBe("small gradient");
  });

  it("covers only the ages seen", () => {
    const { table } = built.value!;
    expect(table.rows[0]!.ageD).toBeGreaterThanOrEqual(5);
    expect(referenceZ(table, 3, 1900).z).toBeNull();
    expect(referenceZ(table, 30, median(30)).z!).toBeCloseTo(0, 0);
  });

  it("has centiles that never cross, at the right shares", () => {
    const { centiles } = built.value!;
    const points = invented(60, 20310501);
    for (let c = 0; c + 1 < centiles.length; c++) {
      centiles[c]!.points.forEach((p, i) => {
        expect(p.massG).toBeLessThan(centiles[c + 1]!.points[i]!.massG);
      });
    }
    const third = centiles.find((c) => c.share === 0.9)!;
    const below = points.filter((p) => {
      const near = third.points.find((q) => Math.abs(q.ageD - p.ageD) <= 0.5);
      return near !== undefined && p.massG < near.massG;
    }).length;
    expect(Math.abs(below / points.length - 0.9)).toBeLessThan(0.04);
  });

  it("fixes the power and says so below 50 animals, and refuses far too few", () => {
    const small = buildReference(invented(8, 2));
    expect(small.value!.table.rows[0]!.l).toBe(0);
    expect(small.notices.map((n) => n.code)).toContain("reference-few-animals");
    const none = buildReference(invented(2, 2));
    expect(none.value).toBeNull();
    expect(none.notices.map((n) => n.code)).toContain("reference-too-small");
  });

  it("cannot cross even where plain quantile regression does: few points, growing spread", () => {
    const random = seededRandom(8);
    const ages = Array.from({ length: 30 }, () => 60 * random.uniform());
    const masses = ages.map(
      (a) => 2000 * Math.exp(0.01 * a + (0.01 + 0.003 * a) * random.normal()),
    );
    const at = Array.from({ length: 61 }, (_, i) => i);
    const curves = centilesThatCannotCross(ages, masses, at, [0.1, 0.3, 0.5, 0.7, 0.9]);
    at.forEach((_, i) => {
      for (let c = 0; c < 4; c++) {
        expect(curves[c]!.points[i]!.massG).toBeLessThanOrEqual(curves[c + 1]!.points[i]!.massG);
      }
    });
  });
});

describe("worm plot and Q", () => {
  const draw = (n: number, f: (z: number) => number, seed: number) => {
    const random = seededRandom(seed);
    return Array.from({ length: n }, (_, i) => ({ ageD: i, z: f(random.normal()) }));
  };

  it("give standard normal numbers where the z are standard normal", () => {
    // Under the null Q has mean equal to its degrees of freedom; 400 sets of 4 groups, seed 90.
    let q = [0, 0, 0];
    for (let r = 0; r < 400; r++) {
      const check = checkReference(
        draw(160, (z) => z, 90 + r),
        4,
      );
      q = q.map((sum, k) => sum + check.q[k]!.value / 400);
    }
    for (const value of q) expect(Math.abs(value - 4)).toBeLessThan(4 * Math.sqrt(8 / 400));
  });

  it("find a wrong mean, a wrong spread and a skewness, each by its own Q", () => {
    expect(
      checkReference(
        draw(200, (z) => z + 0.4, 1),
        4,
      ).q[0]!.p,
    ).toBeLessThan(1e-4);
    expect(
      checkReference(
        draw(200, (z) => 1.5 * z, 2),
        4,
      ).q[1]!.p,
    ).toBeLessThan(1e-4);
    expect(
      checkReference(
        draw(200, (z) => Math.exp(z / 1.2) - 1.4, 3),
        4,
      ).q[2]!.p,
    ).toBeLessThan(1e-4);
  });

  it("keep 95 % of the points of a true worm inside their bands", () => {
    const check = checkReference(
      draw(2000, (z) => z, 7),
      4,
    );
    const points = check.groups.flatMap((g) => g.points);
    const inside = points.filter((p) => Math.abs(p.deviation) <= p.band).length;
    expect(inside / points.length).toBeGreaterThan(0.85);
  });
});
