import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { type Notice, notice } from "../../src/core/notice.js";
import type { NoticeCode } from "../../src/core/sentences.js";

describe("a notice", () => {
  it("is plain data: code, level, parameters and, where known, a place", () => {
    const made = notice("records-refused-more", "problem", { refused: 20, offered: 10 });
    expect(JSON.parse(JSON.stringify(made))).toEqual({
      code: "records-refused-more",
      level: "problem",
      parameters: { refused: 20, offered: 10 },
    });
    const placed = notice("flags-no-diagnosis", "info", {}, { table: "feeds", line: 3 });
    expect(placed.place).toEqual({ table: "feeds", line: 3 });
  });

  it("may name its animal, whether or not the sentence does", () => {
    expect(notice("flags-no-diagnosis", "info", { animal: "P1" }).parameters).toEqual({
      animal: "P1",
    });
  });

  it("of a code that this version does not know shows the code", () => {
    const old = { code: "from-another-version", level: "info", parameters: {} };
    expect(noticeText(old as unknown as Notice)).toBe("from-another-version");
  });

  it("takes a code put together of parts that are all known", () => {
    const kinds = ["coat", "meal"] as const;
    const codes = kinds.map((kind) => notice(`ask-${kind}`, "info", {}).code);
    expect(codes).toEqual(["ask-coat", "ask-meal"] satisfies NoticeCode[]);
  });
});
