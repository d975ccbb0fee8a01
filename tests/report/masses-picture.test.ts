import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { massAmongOthersPicture } from "../../src/report/animal/masses-picture.js";

/** The demo study is invented: it serves to have animals to draw. */
const demo = fileURLToPath(new URL("../../data-demo", import.meta.url));

describe("one animal among very many", () => {
  it("draws sixty of the others, evenly, and says so", async () => {
    const { value } = await analyse(await readStudy(demo), { onDay: "2024-04-20" });
    const animal = value.animals.find((a) => a.animalId === "O24-02")!;
    const copies = [1, 2, 3, 4].flatMap((k) =>
      value.animals.map((a) => ({ ...a, animalId: `${a.animalId}-${k}`, name: null })),
    );
    const few = massAmongOthersPicture(value, animal);
    const many = massAmongOthersPicture({ ...value, animals: [animal, ...copies] }, animal);
    expect(few.caption).not.toMatch(/drawn, evenly/);
    expect(many.caption).toMatch(/60 of \d+ drawn, evenly over the records/);
    const names = (spec: unknown) =>
      new Set(JSON.stringify(spec).match(/"animal":"[^"]+-[1-4]"/g) ?? []);
    expect(names(many.spec).size).toBeGreaterThan(50);
    expect(names(many.spec).size).toBeLessThanOrEqual(60);
    // The first and the last season are both among them.
    expect(JSON.stringify(many.spec)).toMatch(/O21-0\d-1/);
    expect(JSON.stringify(many.spec)).toMatch(/O2[34]-0\d-4/);
  });
});
