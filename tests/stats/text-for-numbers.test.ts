import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { evaluated, examplesOf, scopeOf, src, under } from "./example-calls.js";

/** A list of numbers written out, and the name of the property it stands under. */
const lists =
  /((?:\w+: |\w+ = )?)(?<![\w)\]])\[(-?[\d.]+(?:e-?\d+)?(?:,\s*-?[\d.]+(?:e-?\d+)?)*)\]/g;

/** Labels may be text: which group or stratum a row belongs to. */
const labels = /\b(?:group|plot)(?: = |: )$/;

/** What these are given is made by other functions of the room, step by step: not looked at again. */
const inner = ["slopeChange"];

describe("numbers written as text", () => {
  it("are refused by name, by every public function of stats and growth that is given a list of numbers", async () => {
    const paths = [...under(join(src, "stats")), ...under(join(src, "growth"))];
    const scope = await scopeOf(paths);
    const open = await scopeOf([join(src, "stats/index.ts"), join(src, "growth/index.ts")]);
    const taken: string[] = [];
    let tried = 0;
    for (const example of paths.flatMap(examplesOf)) {
      if (example.of === undefined || !(example.of in open) || inner.includes(example.of)) continue;
      // What an example leaves to the reader (a fit, a study) cannot be called.
      if (evaluated(example, scope) instanceof Error) continue;
      for (const found of example.code.matchAll(lists)) {
        if (labels.test(found[1]!)) continue;
        const words = found[2]!.split(",").map((each) => JSON.stringify(each.trim()));
        const at = found.index;
        const code = `${example.code.slice(0, at)}${found[1]}[${words.join(", ")}]${example.code.slice(at + found[0].length)}`;
        const got = evaluated({ ...example, code }, scope);
        tried++;
        if (
          !(got instanceof Error && got.name === "UsageError" && /the text "/.test(got.message))
        ) {
          taken.push(
            `${example.path.slice(src.length)}: ${found[0]} in ${example.code.split("\n").at(-1)} gave ${got}`,
          );
        }
      }
    }
    expect(taken).toEqual([]);
    expect(tried).toBeGreaterThan(150);
  });
});
