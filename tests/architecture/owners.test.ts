import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/**
 * What is decided once, and by whom. Each row names a concept, the files that may
 * decide it, and what a second owner would have to write; `caught` is such a line.
 * Orders, signs and who reads them have tests of their own beside this one.
 */
interface Owner {
  readonly concept: string;
  readonly owners: readonly string[];
  readonly mark: RegExp;
  readonly caught: string;
}

const owners: readonly Owner[] = [
  {
    concept: "minute, hour and day in milliseconds",
    // A large seal weighs 60,000 g.
    owners: [
      "units/minute-ms.ts",
      "units/hour-ms.ts",
      "units/day-ms.ts",
      "species/harbour-seal.ts",
    ],
    mark: /\b(?:60_?000|3_?600_?000|86_?400_?000|43_?200_?000|604_?800_?000)\b|\b60 \* (?:60 \* )?1_?000\b/,
    caught: "const hour = 60 * 60 * 1000;",
  },
  {
    concept: "an interval about a range that holds for certain",
    owners: ["core/measured.ts"],
    mark: /lower!? - half\b/,
    caught: "interval: { lower: lower! - half, upper: upper! + half, level },",
  },
  {
    concept: "a civil date as text, and whether a text is one",
    owners: ["units/calendar.ts"],
    mark: /toISOString\(\)\s*\.(?:slice|substring)\(0, ?10\)|\^\\d\{4\}-\\d\{2\}-\\d\{2\}\$\/\.test/,
    caught: "new Date(at).toISOString().slice(0, 10)",
  },
  {
    concept: "the clock time of an instant as text",
    // `core` knows no zone: it writes the instant in UTC, and says so.
    owners: ["units/format-date.ts", "core/wording.ts"],
    mark: /toISOString\(\)\s*\.(?:slice|substring)\((?:11|0, ?16)/,
    caught: "new Date(local).toISOString().slice(11, 16)",
  },
  {
    concept: "the begin of a feeding day",
    // Cells that carry a day alone are put at its begin before there is a study to ask.
    owners: ["units/calendar.ts", "records/read-cell.ts", "records/read-order-cell.ts"],
    mark: /(?:[sS]tartHour|feedingDayStartHour) \* hourMs/,
    caught: "const from = midnight + settings.feedingDayStartHour * hourMs;",
  },
  {
    concept: "age",
    owners: ["units/calendar.ts"],
    mark: /- localNoon\(/,
    caught: "const age = (at - localNoon(birth, zone)) / dayMs;",
  },
  {
    concept: "units of mass and energy",
    owners: ["units/quantity.ts"],
    mark: /453\.59|28\.3495|\b4\.184\b/,
    caught: "const pounds = g / 453.59237;",
  },
  {
    concept: "net mass of a weighing",
    // The others look for slips in readings, each with a tare of its own making.
    owners: ["series/build-series.ts", "series/slip-candidates.ts", "records/check-masses.ts"],
    mark: /\bmassG - (?:\w+\.)?\w*tare/i,
    caught: "const net = row.massG - row.tareG;",
  },
  {
    concept: "eaten",
    owners: ["series/series-feeds.ts"],
    mark: /offered\w*(?:\.\w+)* - [\w.]*refused/i,
    caught: "const eaten = feed.offeredG - feed.refusedG;",
  },
  {
    concept: "relative gain between two masses",
    owners: ["rates/gain-between.ts"],
    mark: /100 \* Math\.log\([\w.!]*massG? \/ /i,
    caught: "const pct = (100 * Math.log(b.massG / a.massG)) / days;",
  },
  {
    concept: "the power of mass that energy goes with",
    owners: ["rates/nutrition-formulas.ts"],
    mark: /metabolicPower = 0\.75|\*\* ?0\.75|Math\.pow\([^)]*, 0\.75\)/,
    caught: "const size = massKg ** 0.75;",
  },
  {
    concept: "a death",
    owners: ["records/is-death.ts"],
    mark: /=== "(?:died|euthanised)"/,
    caught: 'if (outcome === "died") return;',
  },
  {
    concept: "the order of levels and of acts",
    owners: ["flags/levels/level.ts"],
    mark: /"danger",\s*"second look"|danger: ?0\b|"do not feed until spoken",\s*"call now/,
    caught: 'const order = ["danger", "second look", "measure first"];',
  },
  {
    concept: "Cholesky's factor",
    owners: ["stats/linear-algebra/cholesky.ts", "stats/linear-algebra/small-matrix.ts"],
    mark: /for \([^)]*< [ij];[^)]*\)\s*\w+ -= (\w+(?:\.data)?)\[[^\]]+\]!? (?:\* \1\[|\*\* 2)/,
    caught: "for (let k = 0; k < j; k++) s -= l[i * n + k]! * l[j * n + k]!;",
  },
  {
    concept: "the interval of a ratio (Fieller)",
    owners: ["stats/hypothesis-tests/ratio-set.ts"],
    mark: /- t2 \* |- t \*\* 2 \* |- t \* t \* /,
    caught: "const A = b * b - t2 * varianceB;",
  },
  {
    concept: "medians and quantiles",
    owners: ["stats/descriptive/quantile.ts", "stats/descriptive/median.ts"],
    mark: /\(\w+\.length - 1\) \* (?:p|q|share)\b|\b(?:p|q|share) \* \(\w+\.length - 1\)|\bplotting\[|\(sorted\[\w+ - 1\]!? \+ sorted\[/,
    caught: "const h = (sorted.length - 1) * p;",
  },
  {
    concept: "a median absolute deviation as a standard deviation",
    owners: ["stats/descriptive/mad-to-sd.ts"],
    mark: /\b1\.482\d*\b|\/ 0\.6745/,
    caught: "const spread = 1.4826 * mad;",
  },
  {
    concept: "how many standard deviations hold 95 in 100",
    owners: ["core/measured.ts"],
    mark: /\b1\.96\b|\b1\.95996\d*/,
    caught: "const low = value - 1.96 * se;",
  },
];

const src = fileURLToPath(new URL("../../src", import.meta.url));

/** Code without comments: an example may write a number out. */
const codeOf = (text: string) => text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/\/\/ .*/g, "");

const sources = readdirSync(src, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .map((name) => ({
    name: name.replaceAll("\\", "/"),
    code: codeOf(readFileSync(join(src, name), "utf8")),
  }));

describe("what is decided once", () => {
  it.each(owners)("$concept has one owner", ({ owners: own, mark }) => {
    const deciding = sources.filter(({ code }) => mark.test(code)).map(({ name }) => name);
    expect(deciding.filter((name) => !own.includes(name))).toEqual([]);
    // An owner that no longer decides it would let a second one pass unseen.
    expect(own.filter((name) => !deciding.includes(name))).toEqual([]);
  });

  it.each(owners)("and a second owner of $concept would be found", ({ mark, caught }) => {
    expect(mark.test(codeOf(caught))).toBe(true);
    expect(mark.test(codeOf(`/* ${caught} */`))).toBe(false);
  });
});
