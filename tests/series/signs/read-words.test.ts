import { describe, expect, it } from "vitest";
import { readWords } from "../../../src/series/signs/read-words.js";
import { signKindOf } from "../../../src/series/signs/sign-table.js";

/** What the words of a line say of its kind, read by hand. */
const read = (kind: Parameters<typeof signKindOf>[0], line: string) =>
  readWords(line, signKindOf(kind));
const there = { state: "present", sure: true };
const inDoubt = { state: "present", sure: false };
const none = { state: "none", sure: true, count: null, amount: null };
const unclear = { state: "unclear", sure: false };
const vomit = (line: string) => read("vomit", line);
const stool = (line: string) => read("stool", line);

describe("something that happens", () => {
  it("is there where the line names it or says nothing, and none where it says so", () => {
    expect([vomit(""), vomit("  "), vomit("vomited"), vomit("yes")]).toEqual(
      new Array(4).fill({ ...there, count: null, amount: null, findings: [] }),
    );
    expect(vomit("none")).toEqual({ ...none, findings: [] });
    expect([vomit("no vomit"), vomit("0"), vomit("0x"), vomit("0 g")]).toMatchObject(
      new Array(4).fill(none),
    );
    expect(vomit("not checked")).toMatchObject({ state: "not looked", sure: true });
    expect(vomit("blorp")).toMatchObject(unclear);
    expect(vomit("no change")).toMatchObject(unclear);
  });

  it("is there, in doubt, where the line says both or doubts itself", () => {
    expect([vomit("yes?"), vomit("vomited, none"), vomit("none, 2x")]).toMatchObject([
      inDoubt,
      inDoubt,
      { ...inDoubt, count: 2 },
    ]);
    expect(vomit("hardly vomited")).toMatchObject(inDoubt);
  });

  it("is not none where something else in the line cannot be read", () => {
    expect([vomit("none?"), vomit("none blorp"), vomit("none, not checked")]).toMatchObject([
      unclear,
      unclear,
      unclear,
    ]);
  });

  it("is counted, the pieces of a line added up", () => {
    expect([vomit("2x"), vomit("2x, 3x"), vomit("twice, 2x"), vomit("2"), vomit("one, 2")]).toEqual(
      [
        { ...there, count: 2, amount: null, findings: [] },
        { ...there, count: 5, amount: null, findings: [] },
        { ...there, count: 4, amount: null, findings: [] },
        { ...there, count: 2, amount: null, findings: [] },
        { ...there, count: 3, amount: null, findings: [] },
      ],
    );
    expect(vomit("two, three").count).toBe(5);
    expect(vomit("2, 0x")).toMatchObject({ ...inDoubt, count: 2 });
  });

  it("as a number over six, or a broken one, may be grams or a score: the larger count, in doubt", () => {
    expect([vomit("6"), vomit("7"), vomit("1.5")]).toMatchObject([
      { ...there, count: 6 },
      { ...inDoubt, count: 7 },
      { ...inDoubt, count: 2 },
    ]);
    // Of what is passed daily such a number is no doubt.
    expect(stool("7")).toMatchObject({ ...there, count: 7 });
  });

  it("is measured, amounts of one unit added up", () => {
    expect([vomit("5 g"), vomit("5 g, 3 g"), vomit("5 g, 3 mL"), vomit("0 g, 3 mL")]).toMatchObject(
      [
        { ...there, count: null, amount: { value: 5, unit: "g" } },
        { ...there, amount: { value: 8, unit: "g" } },
        { ...there, amount: { value: 5, unit: "g" } },
        { ...inDoubt, amount: { value: 3, unit: "mL" } },
      ],
    );
    expect([vomit("a little"), vomit("not a lot"), vomit("no trace")]).toMatchObject([
      there,
      there,
      none,
    ]);
  });

  it("in hundredths is some or none, where its kind reads no shares", () => {
    expect([vomit("5 %"), vomit("0 %")]).toMatchObject([there, none]);
  });

  it("is told with what else the line says, which is there too", () => {
    expect(vomit("bloody, lethargic")).toMatchObject({
      ...there,
      findings: ["blood", "lethargic"],
    });
    expect(vomit("blood, no bloat").findings).toEqual(["blood"]);
    // Another event beside it does not make this one happen.
    expect(vomit("none, bloat")).toMatchObject({ state: "none", findings: ["bloat"] });
    expect(vomit("none, blood")).toMatchObject({ ...inDoubt, findings: ["blood"] });
  });
});

describe("what is passed", () => {
  it("is there by its colour, form or goodness", () => {
    expect([stool("brown"), stool("formed"), stool("firm"), stool("2x")]).toMatchObject([
      there,
      there,
      there,
      there,
    ]);
    expect(stool("not formed")).toMatchObject({ ...there, findings: ["soft stool"] });
    expect(stool("not firm")).toMatchObject({ ...there, findings: [] });
    expect(stool("not very formed")).toMatchObject({ findings: ["soft stool"] });
    expect(stool("soft")).toMatchObject({ ...there, findings: ["soft stool"] });
    expect(stool("not runny")).toMatchObject({ findings: [] });
    expect(stool("barely runny")).toMatchObject({ ...inDoubt, findings: ["soft stool"] });
  });

  it("is not shown by straining, nor by how the animal is", () => {
    expect(stool("straining")).toMatchObject({ state: "unclear", findings: ["straining"] });
    expect(stool("none, straining")).toMatchObject({ state: "none", findings: ["straining"] });
    expect(stool("none, lethargic")).toMatchObject({ state: "none", findings: ["lethargic"] });
    expect(stool("none, playful")).toMatchObject({ state: "none", findings: [] });
    expect(stool("none, not playful")).toMatchObject({ state: "none", findings: ["lethargic"] });
    expect(stool("lethargic")).toMatchObject(unclear);
    expect(read("urine", "none, watery stool")).toMatchObject({
      state: "none",
      findings: ["watery stool"],
    });
  });
});

describe("how an animal is", () => {
  const behaviour = (line: string) => read("behaviour", line);
  const suckle = (line: string) => read("suckle", line);
  const hydration = (line: string) => read("hydration", line);
  const fine = { state: "none", sure: true, findings: [] };

  it("is fine by a good word alone", () => {
    expect([behaviour("bright"), suckle("strong"), hydration("good")]).toMatchObject([
      fine,
      fine,
      fine,
    ]);
    for (const line of ["bright?", "bright blorp", "bright, none", "bright, yes", "blorp", ""])
      expect(behaviour(line)).toMatchObject(unclear);
    expect(behaviour("bright, not checked")).toMatchObject(unclear);
    expect(behaviour("not checked")).toMatchObject({ state: "not looked", sure: true });
    expect(behaviour("not checked, 2x")).toMatchObject({ state: "not looked", count: null });
    // That something bad is not so is good.
    expect(behaviour("not lethargic")).toMatchObject(fine);
    expect(behaviour("no vomiting")).toMatchObject(fine);
  });

  it("is what is found, or what a good word denied says", () => {
    expect([behaviour("lethargic"), behaviour("not bright"), suckle("not suckling")]).toMatchObject(
      [
        { ...there, findings: ["lethargic"] },
        { ...there, findings: ["lethargic"] },
        { ...there, findings: ["not suckling"] },
      ],
    );
    expect(behaviour("not very bright")).toMatchObject({ ...there, findings: ["lethargic"] });
    expect(behaviour("lethargic?")).toMatchObject({ ...inDoubt, findings: ["lethargic"] });
    expect(behaviour("hardly shivering")).toMatchObject({ ...inDoubt, findings: ["shivering"] });
    expect(behaviour("lethargic, not checked")).toMatchObject(there);
    expect(behaviour("weak, lethargic").findings).toEqual(["lethargic", "weak"]);
    // An event is a finding of it, doubted where the event is.
    expect(behaviour("vomited")).toMatchObject({ ...there, findings: ["vomit"] });
    expect(behaviour("hardly vomited")).toMatchObject({ ...inDoubt, findings: ["vomit"] });
    expect(behaviour("bright, stool")).toMatchObject({ findings: [] });
  });

  it("by a bare none is what its kind means by it, a good word beside it apart", () => {
    expect([suckle("none"), suckle("0"), suckle("no")]).toMatchObject(
      new Array(3).fill({ ...there, findings: ["not suckling"] }),
    );
    expect(suckle("good, none")).toMatchObject({ ...unclear, findings: [] });
    expect([behaviour("none"), behaviour("0")]).toMatchObject([
      { ...unclear, findings: [] },
      { ...unclear, findings: [] },
    ]);
    expect(suckle("3")).toMatchObject({ ...unclear, findings: [] });
    expect(suckle("good, 3")).toMatchObject(unclear);
  });

  it("in hundredths of fluid missing goes by its steps", () => {
    expect([hydration("4 %"), hydration("0 %")]).toMatchObject([fine, fine]);
    expect(hydration("5 %")).toMatchObject({ ...there, findings: ["slightly dehydrated"] });
    expect(hydration("7.9 %").findings).toEqual(["slightly dehydrated"]);
    expect(hydration("8 %").findings).toEqual(["dehydrated"]);
    expect(behaviour("5 %")).toMatchObject(unclear);
  });
});
