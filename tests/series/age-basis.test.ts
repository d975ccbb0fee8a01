import { describe, expect, it } from "vitest";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";

/** A birth date whose basis was left blank, in the way of everyone who fills in two sheets. */
describe("a birth date", () => {
  const noticesOf = (basis: string) => {
    const files = {
      "study.json": '{ "zone": "UTC" }',
      "animals.csv": `animal_id,species,birth_date_earliest,birth_date_basis,admitted_at\nW1,sea otter,2026-03-01,${basis},2026-03-05 14:10\n`,
      "weighings.csv": "animal_id,at,mass_g,tare_g\nW1,2026-03-05 14:30,2410,0\n",
    };
    const inputs = Object.entries(files).map(([path, text]) => ({
      path,
      bytes: new TextEncoder().encode(text),
    }));
    const [animal] = buildSeries(parseStudy(inputs)).animals;
    return [
      animal!.age.usableForWeightForAge,
      ...animal!.notices.map((n) => n.code).filter((code) => code.startsWith("series-age")),
    ];
  };

  it("that does not serve for weight-for-age says why", () => {
    expect(noticesOf("umbilicus")).toEqual([true]);
    expect(noticesOf("mass")).toEqual([false, "series-age-from-mass"]);
    expect(noticesOf("")).toEqual([false, "series-age-of-unknown-basis"]);
    expect(noticesOf("unknown")).toEqual([false, "series-age-of-unknown-basis"]);
  });
});
