import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { attackRecords, linesWithRows } from "./mutated-records.js";

/** Seed written down before the first run; the bench `records-spoilt` goes on from where this ends. */
const seed = 20270318;
const studies = process.env["ATTACKS"] === "all" ? 20_000 : 150;

describe("spoilt record files, read and analysed", () => {
  it(`${studies} of them: no crash, no number without a value, every row accepted or set aside`, async () => {
    const random = seededRandom(seed);
    const faults: string[] = [];
    let [through, counted, setAside] = [0, 0, 0];
    for (let i = 0; i < studies; i++)
      try {
        const one = await attackRecords(random.split(i));
        if (one.refused === null) through++;
        if (one.counted) counted++;
        setAside += one.setAside;
      } catch (error) {
        faults.push(`${i}: ${(error as Error).message}`);
      }
    expect(faults).toEqual([]);
    // The attack must reach what it attacks.
    expect(through).toBeGreaterThan(studies / 2);
    expect(counted).toBeGreaterThan(studies / 8);
    expect(setAside).toBeGreaterThan(studies / 2);
  }, 1_800_000);

  it("counts lines by its own rules", () => {
    const count = (text: string) => linesWithRows(Buffer.from(text));
    expect(count("a,b\n1,2\n\n , \r\n3,4\r5,6")).toEqual([2, 5, 6]);
    expect(count('a,b\n"1, 2",3\n"",\n"a ""b""",\n""""""\n')).toEqual([2, 4, 5]);
    expect(count("a,b\n1;2\n")).toEqual([2]);
    expect(count('a,b\n"1\n2",3\n')).toBeNull();
    expect(count('a,b\n1"2,"3\n')).toBeNull();
    expect(count("a,b\n; ;\n")).toBeNull();
    expect(count("a,b\n1|2|||3\n,\n")).toBeNull();
  });
});
