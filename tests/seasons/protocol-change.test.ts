import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { protocolChange } from "../../src/seasons/protocol-change.js";
import { type MadeAnimal, madeStudy } from "./made-study.js";

const day = 86_400_000;
const changeDay = Date.UTC(2032, 5, 1, 12);
const group = (name: string, n: number, more: (i: number) => Partial<MadeAnimal>): MadeAnimal[] =>
  Array.from({ length: n }, (_, i) => ({
    id: `${name}${i}`,
    season: name,
    gain: 30 + i,
    noiseG: 4,
    ...more(i),
  }));

/** Eight animals aged 40-54 d at the change, whose gain is multiplied then, and eight of the year before. */
const study = (times: number) =>
  madeStudy([
    ...group("b", 8, (i) => ({
      birthAt: changeDay - (40 + 2 * i) * day,
      changeAtD: { ageD: 40 + 2 * i, times },
    })),
    ...group("a", 8, (i) => ({ birthAt: changeDay - (400 + 2 * i) * day })),
  ]);

describe("a change of protocol inside a season", () => {
  it("finds the change of relative gain beyond what age does by itself", () => {
    const { value } = protocolChange(study(1.3), { species: "sea otter", at: changeDay });
    expect(value.animals).toHaveLength(8);
    expect(value.controls).toHaveLength(8);
    // Straight growth: relative gain falls with mass in both groups; the controls carry that.
    expect(value.controlChange.mean).toBeLessThan(0);
    // 30 % of about 33 g/d on about 3,100 g: 0.3 x 33 / 3100 = 0.32 %/d, a little less by growth.
    expect(value.effect.value).toBeGreaterThan(0.2);
    expect(value.effect.value).toBeLessThan(0.36);
    expect(value.effect.interval!.lower).toBeGreaterThan(0);
  });

  it("finds nothing where nothing changed, and never names a cause", () => {
    const { value } = protocolChange(study(1), { species: "sea otter", at: changeDay });
    expect(Math.abs(value.effect.value!)).toBeLessThan(0.05);
    expect(value.sentences.map((s) => noticeText(s)).join(" ")).toMatch(/No cause is claimed/);
  });

  it("says in grams what the change comes to, and where none is shown that this proves nothing", () => {
    const words = (times: number) =>
      protocolChange(study(times), { species: "sea otter", at: changeDay }).value.sentences.map(
        (s) => noticeText(s),
      )[0]!;
    // About 0.3 %/d on about 3,200 g.
    const grams = Number(/mean mass of \d+ g is ([\d.]+) g\/d/.exec(words(1.3))?.[1]);
    expect(grams).toBeGreaterThan(6);
    expect(grams).toBeLessThan(12);
    expect(words(1)).toMatch(/No change .* is shown.*not proof that nothing changed/);
  });

  it("takes a day as the beginning of its feeding day, and refuses what is none", () => {
    // The made study lies in universal time and its feeding day begins at 6.
    const at = (when: number | string) =>
      protocolChange(study(1.3), { species: "sea otter", at: when }).value;
    expect(at("2032-06-01").at).toBe(Date.UTC(2032, 5, 1, 6));
    expect(at("2032-06-01").effect).toEqual(at(Date.UTC(2032, 5, 1, 6)).effect);
    expect(() => at("1 June 2032")).toThrow(/YYYY-MM-DD/);
  });

  it("says what is missing", () => {
    const alone = madeStudy(group("b", 8, (i) => ({ birthAt: changeDay - (40 + 2 * i) * day })));
    const none = protocolChange(alone, { species: "sea otter", at: changeDay }).value;
    expect(none.effect.value).toBeNull();
    expect(none.effect.why!.code).toBe("protocol-change-no-controls");
    const early = protocolChange(alone, { species: "sea otter", at: changeDay - 900 * day }).value;
    expect(early.effect.why!.code).toBe("protocol-change-too-few");
  });
});
