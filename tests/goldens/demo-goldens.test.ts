import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { coreResults, type Piece, questionResults } from "./demo-results.js";
import { type Golden, goldenOf } from "./digest-of.js";

/**
 * Results on the fixture demo, held bit for bit. They say nothing of whether a
 * number is right (tests/truth does); they say that a move or a rename changed
 * none. What changes on purpose is entered in GOLDEN-CHANGES.md.
 */
const goldens: Record<string, Golden> = JSON.parse(
  readFileSync(new URL("./demo-853cc0e.json", import.meta.url), "utf8"),
);

async function differences(results: AsyncGenerator<Piece>) {
  const seen: string[] = [];
  const moved: string[] = [];
  for await (const piece of results) {
    const [name, golden] = goldenOf(piece);
    seen.push(name);
    const held = goldens[name];
    if (held?.digest !== golden.digest) {
      moved.push(`${name}: ${JSON.stringify(held)} -> ${JSON.stringify(golden)}`);
    }
  }
  return { seen, moved };
}

describe("results on the fixture demo", () => {
  it("are what they were: records, histories, the day's analysis", async () => {
    const { seen, moved } = await differences(coreResults());
    expect(moved).toEqual([]);
    expect(seen.length).toBeGreaterThan(300);
  }, 240_000);

  // Some forty seconds: with the long checks, not with every run of the tests.
  it.runIf(process.env["GOLDENS"] === "all")(
    "are what they were: every question",
    async () => {
      const { seen, moved } = await differences(questionResults());
      expect(moved).toEqual([]);
      expect(seen.length).toBeGreaterThan(30);
    },
    240_000,
  );

  it("notice a number that moved by one bit", () => {
    const of = (x: number) => goldenOf(["a", { x: [x, 1] }])[1].digest;
    expect(of(0.1 + 0.2)).not.toBe(of(0.3));
    expect(of(0.3)).toBe(of(0.3));
  });
});
