import { describe, expect, it } from "vitest";
import { demoRows, demoText, demoTruth } from "./demo-files.js";

const truth = demoTruth();
const ids = (table: string, column: string) => new Set(demoRows(table).map((r) => r[column]!));
const slipAt = new Set(truth.slips.map((s) => `${s.file}:${s.line}`));

describe("keys", () => {
  const animals = ids("animals", "animal_id");
  const diets = ids("diets", "diet_id");
  const batches = ids("batches", "batch_id");

  it.each(["weighings", "feeds", "plans", "housing", "observations"])(
    "%s points at animals that exist, the deliberate errors aside",
    (table) => {
      demoRows(table).forEach((row, i) => {
        if (slipAt.has(`${table}.csv:${i + 2}`) || row["animal_id"] === "") return;
        expect(animals.has(row["animal_id"]!), `${table}.csv line ${i + 2}`).toBe(true);
      });
    },
  );

  it("feeds, batches and ingredients point at diets and batches that exist", () => {
    demoRows("feeds").forEach((row, i) => {
      if (slipAt.has(`feeds.csv:${i + 2}`)) return;
      expect(diets.has(row["diet_id"]!)).toBe(true);
      expect(batches.has(row["batch_id"]!), `feeds.csv line ${i + 2}`).toBe(true);
      expect((row["animal_id"] === "") !== (row["group_id"] === "")).toBe(true);
    });
    for (const row of demoRows("ingredients")) {
      expect(diets.has(row["diet_id"]!)).toBe(true);
      expect(batches.has(row["batch_id"]!)).toBe(true);
    }
  });

  it("ingredients add up to the batch, to the rounding of each line", () => {
    const sums = new Map<string, number>();
    for (const row of demoRows("ingredients"))
      sums.set(row["batch_id"]!, (sums.get(row["batch_id"]!) ?? 0) + Number(row["mass_g"]));
    for (const batch of demoRows("batches")) {
      const sum = sums.get(batch["batch_id"]!);
      if (sum !== undefined) expect(Math.abs(sum - Number(batch["mass_g"]))).toBeLessThanOrEqual(3);
    }
    expect(sums.size).toBeGreaterThan(1000);
  });

  it("nobody eats more than was offered, the deliberate error aside", () => {
    demoRows("feeds").forEach((row, i) => {
      if (slipAt.has(`feeds.csv:${i + 2}`) || row["refused_g"] === "") return;
      expect(Number(row["refused_g"])).toBeLessThanOrEqual(Number(row["offered_g"]));
    });
  });

  it("the data package names every table and every column in order", () => {
    const pack = JSON.parse(demoText("datapackage.json")) as {
      resources: { path: string; schema: { fields: { name: string }[] } }[];
    };
    expect(pack.resources).toHaveLength(11);
    for (const r of pack.resources)
      expect(r.schema.fields.map((f) => f.name).join(",")).toBe(demoText(r.path).split("\n")[0]);
  });

  it("observations are of every kind", () => {
    expect([...ids("observations", "kind")].sort()).toEqual(
      [
        "bloat",
        "condition score",
        "exam",
        "fluids",
        "girth",
        "glucose",
        "groom",
        "length",
        "medication",
        "milestone",
        "note",
        "regurgitation",
        "stool",
        "swim",
        "temperature",
        "urine",
        "vomit",
      ].sort(),
    );
  });
});

describe("names", () => {
  it("of animals are one word each, and of those who ordered they are posts, not people", () => {
    for (const a of demoRows("animals")) expect(a["name"]).toMatch(/^[A-Z][a-z]+$/);
    for (const by of ids("plans", "ordered_by")) expect(by).toMatch(/^the [a-z ]+$/);
  });
});

describe("the clock", () => {
  const settings = JSON.parse(demoText("study.json")) as { zone: string };
  const format = new Intl.DateTimeFormat("en-CA", {
    timeZone: settings.zone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
  const local = (instant: number) => {
    const p = Object.fromEntries(format.formatToParts(instant).map((x) => [x.type, x.value]));
    return `${p["year"]}-${p["month"]}-${p["day"]} ${p["hour"]}:${p["minute"]}`;
  };
  /** Which of the two offsets of the zone make this clock time real. */
  const offsetsOf = (text: string) =>
    [-150, -210].filter((m) => local(Date.parse(`${text}Z`) - m * 60_000) === text);
  const times = ["weighings", "feeds", "observations"].flatMap((table) =>
    demoRows(table).map((row, i) => ({ at: row["at"]!, where: `${table}.csv:${i + 2}` })),
  );

  it("has no record at a time that does not exist, and says the offset where one happens twice", () => {
    const nights = new Set(truth.clockNights.flatMap((n) => [n.spring, n.autumn]));
    const near = times.filter((t) => nights.has(t.at.slice(0, 10)) && !slipAt.has(t.where));
    expect(near.length).toBeGreaterThan(50);
    for (const t of near) {
      const offsets = offsetsOf(t.at.slice(0, 16));
      const written = t.at.slice(16);
      expect(offsets.length, t.where).toBe(written === "" ? 1 : 2);
      if (written !== "") expect(["-02:30", "-03:30"]).toContain(written);
    }
  });

  it("small pups are fed through a spring night and an autumn night of the change", () => {
    const feeds = demoRows("feeds").map((f) => f["at"]!);
    for (const n of truth.clockNights) {
      const hours = (day: string) =>
        new Set(feeds.filter((at) => at.startsWith(day)).map((at) => at.slice(11, 13)));
      expect(hours(n.spring).has("00")).toBe(true);
      expect(hours(n.spring).has("04")).toBe(true);
      expect(hours(n.spring).has("02")).toBe(false);
      if (n.autumn === null) continue;
      expect(feeds.some((at) => at.startsWith(`${n.autumn} 01:`) && at.endsWith("-03:30"))).toBe(
        true,
      );
    }
  });
});

describe("deliberate errors", () => {
  it("stand where the truth file says, as it says", () => {
    expect(truth.slips.length).toBeGreaterThan(15);
    for (const slip of truth.slips) {
      const row = demoRows(slip.file.replace(".csv", ""))[slip.line - 2]!;
      expect(row[slip.column], `${slip.file}:${slip.line}`).toBe(slip.written);
      expect(slip.written).not.toBe(slip.kind === "duplicate row" ? "" : slip.trueValue);
    }
  });
});
