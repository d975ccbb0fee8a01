import { describe, expect, it } from "vitest";
import { asWritten } from "../../../src/core/as-written.js";
import { noticeText } from "../../../src/core/catalogue.js";
import { meaningOf, signOf } from "./row-of.js";
import { writtenCells } from "./written-cells.js";

describe("cells as keepers write them", () => {
  it.each(writtenCells)("%s %j %j: %s", (kind, value, unit, meaning) => {
    expect(meaningOf(signOf(kind, value, unit))).toBe(meaning);
  });

  it("are shown word for word in what is asked about them", () => {
    const asked = writtenCells.map(([kind, value, unit]) => signOf(kind, value, unit));
    for (const sign of asked) {
      if (sign.question === null) continue;
      expect(noticeText(sign.question)).toContain(asWritten(sign.written));
      expect(sign.question.place).toMatchObject({ file: "observations.csv", line: 2 });
    }
    expect(asked.filter((s) => s.question !== null).length).toBeGreaterThan(40);
  });
});
