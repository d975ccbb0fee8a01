import { describe, expect, it } from "vitest";
import { parseStudy } from "../../src/records/parse-study.js";

const study = (lines: readonly string[]) => {
  const files = {
    "study.json": JSON.stringify({ zone: "UTC" }),
    "animals.csv":
      "animal_id,species,season,admitted_at\nP1,sea otter,2031,2031-03-01 08:00\nP2,sea otter,2031,2031-03-01 08:00\n",
    "weighings.csv": "animal_id,at,mass_g\nP1,2031-03-02 08:00,2000\n",
    "events.csv": ["at,to,scope,kind,notes", ...lines, ""].join("\n"),
  };
  const inputs = Object.entries(files).map(([path, text]) => ({
    path,
    bytes: new TextEncoder().encode(text),
  }));
  return parseStudy(inputs);
};

// Common practice, without a source: what keepers write of a thing that touches several animals.
describe("what happens to several animals at once", () => {
  it.each([
    ["heat wave", "heat"],
    ["Cold water", "cold"],
    ["power cut", "outage"],
    ["new feeder", "staff"],
    ["change of milk", "milk change"],
    ["moved", "move"],
    ["illness", "illness in group"],
  ])("%s is read as %s", (written, kind) => {
    const read = study([`2031-03-05 08:00,,all animals,${written},as written`]);
    expect([...read.tables.events].map((e) => [e.kind, e.scope, e.notes])).toEqual([
      [kind, "study", "as written"],
    ]);
    expect(read.setAside).toEqual([]);
  });

  it("keeps a word that nobody knows as a row set aside, with the words to choose from", () => {
    const read = study(["2031-03-05 08:00,,study,eclipse,"]);
    expect([...read.tables.events]).toEqual([]);
    expect(read.setAside).toHaveLength(1);
    expect(JSON.stringify(read.setAside[0])).toContain("milk change");
  });
});
