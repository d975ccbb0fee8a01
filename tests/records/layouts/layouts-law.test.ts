import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeWorkbook, type Value } from "../make-workbook.js";
import type { Texts } from "../small-study.js";
import { agreedStudy, weighed } from "./agree.js";

/** A weighing as the generator knows it; the truth that every layout must give back. */
interface Weighing {
  readonly id: "P1" | "P2";
  /** 2025-03-05 and after. */
  readonly day: string;
  readonly clock: string;
  readonly grams: number;
}
const names = { P1: "Bramble", P2: "Thistle" } as const;

/** For each animal some days, each with a clock time and a mass. */
const weighings = fc
  .tuple(
    fc.uniqueArray(fc.integer({ min: 5, max: 27 }), { minLength: 3, maxLength: 8 }),
    fc.uniqueArray(fc.integer({ min: 5, max: 27 }), { minLength: 3, maxLength: 8 }),
    fc.array(fc.integer({ min: 1400, max: 4800 }), { minLength: 16, maxLength: 16 }),
    fc.array(fc.integer({ min: 0, max: 59 }), { minLength: 16, maxLength: 16 }),
  )
  .map(([one, two, grams, minutes]): Weighing[] =>
    (
      [
        ["P1", one],
        ["P2", two],
      ] as const
    ).flatMap(([id, days], a) =>
      [...days]
        .sort((x, y) => x - y)
        .map((day, i) => ({
          id,
          day: `2025-03-${String(day).padStart(2, "0")}`,
          clock: `07:${String(minutes[a * 8 + i]).padStart(2, "0")}`,
          grams: grams[a * 8 + i]!,
        })),
    ),
  );

type Cells = readonly (readonly Value[])[];
const csv = (rows: Cells, mark = ",") =>
  `${rows.map((row) => row.map((cell) => cell ?? "").join(mark)).join("\n")}\n`;
const of = (all: readonly Weighing[], id: string) => all.filter((w) => w.id === id);
const title: Cells = [["Weights of the nursery"], ["spring 2025"], []];

/** Ways of laying a table out; `noon` where the layout has no room for the clock time. */
const layouts: Readonly<
  Record<string, { readonly noon?: true; readonly write: (all: readonly Weighing[]) => Texts }>
> = {
  "titles and a semicolon": {
    write: (all) => ({
      "weighings.csv": csv(
        [
          ...title,
          ["Pup", "Date", "Time", "Weight (g)"],
          ...all.map((w) => [w.id, w.day, w.clock, w.grams]),
        ],
        ";",
      ),
    }),
  },
  "a file for each animal with titles and ditto marks": {
    write: (all) =>
      Object.fromEntries(
        (["P1", "P2"] as const).map((id) => {
          let last = "";
          const rows = of(all, id).map((w) => {
            const clock = w.clock === last ? '""""' : w.clock;
            last = w.clock;
            return [w.day, clock, w.grams];
          });
          return [
            `weights ${names[id]}.csv`,
            csv([...title, ["Date", "Time", "Weight (g)"], ...rows]),
          ];
        }),
      ),
  },
  "days across": {
    noon: true,
    write: (all) => {
      const days = [...new Set(all.map((w) => w.day))].sort();
      const row = (id: string): Value[] => [
        id,
        ...days.map((day) => of(all, id).find((w) => w.day === day)?.grams ?? null),
      ];
      return {
        "weighings.csv": csv([
          ["animal_id", ...days],
          row("P1"),
          row("P2"),
          ["Total", ...days.map(() => 1)],
        ]),
      };
    },
  },
  "animals across, by name": {
    noon: true,
    write: (all) => {
      const days = [...new Set(all.map((w) => w.day))].sort();
      const at = (id: string, day: string) => of(all, id).find((w) => w.day === day)?.grams ?? null;
      return {
        "weighings.csv": csv([
          ["Date", "Bramble", "Thistle"],
          ...days.map((d) => [d, at("P1", d), at("P2", d)]),
        ]),
      };
    },
  },
  "blocks side by side with names above": {
    write: (all) => {
      const [a, b] = [of(all, "P1"), of(all, "P2")];
      const n = Math.max(a.length, b.length);
      const half = (w: Weighing | undefined): Value[] =>
        w === undefined ? [null, null] : [`${w.day} ${w.clock}`, w.grams];
      return {
        "weighings.csv": csv([
          ["Bramble", null, null, "Thistle", null],
          ["When", "Weight (g)", null, "When", "Weight (g)"],
          ...Array.from({ length: n }, (_, i) => [...half(a[i]), null, ...half(b[i])]),
        ]),
      };
    },
  },
  "blanks as above, headings repeated": {
    write: (all) => {
      const heading = ["animal_id", "at", "mass_g"];
      const rows = all.map((w, i) => [
        all[i - 1]?.id === w.id ? null : w.id,
        `${w.day} ${w.clock}`,
        w.grams,
      ]);
      return {
        "weighings.csv": csv([
          heading,
          ...rows.slice(0, 4),
          ["page 2", null, null],
          heading,
          ...rows.slice(4),
        ]),
      };
    },
  },
  "names above their rows": {
    write: (all) => ({
      "weighings.csv": csv(
        (["P1", "P2"] as const).flatMap((id) => [
          [names[id], null, null],
          ["Date", "Time", "Weight (g)"],
          ...of(all, id).map((w) => [w.day, w.clock, w.grams]),
          [],
        ]),
      ),
    }),
  },
  "day numbers": {
    write: (all) => ({
      "weighings.csv": csv([
        ["animal_id", "at", "mass_g"],
        ...all.map((w) => [
          w.id,
          (Date.parse(`${w.day}T${w.clock}Z`) / 86_400_000 + 25_569).toFixed(6),
          w.grams,
        ]),
      ]),
    }),
  },
  "kilograms with a comma, dates day first, files by half month": {
    write: (all) => {
      const part = (rows: readonly Weighing[], heading: readonly string[]) =>
        csv(
          [
            heading,
            ...rows.map((w) => [
              w.id,
              `${w.day.split("-").reverse().join(".")} ${w.clock}`,
              (w.grams / 1000).toFixed(3).replace(".", ","),
            ]),
          ],
          ";",
        );
      return {
        "weighings-03a.csv": part(
          all.filter((w) => w.day < "2025-03-15"),
          ["animal_id", "at", "mass_kg"],
        ),
        "weighings-03b.csv": part(
          all.filter((w) => w.day >= "2025-03-15"),
          ["Tier", "Datum", "Gewicht (kg)"],
        ),
      };
    },
  },
};

describe("a table in a layout, read back after one accepted proposal, equals the plain table", () => {
  for (const [name, { noon, write }] of Object.entries(layouts))
    it(name, async () => {
      await fc.assert(
        fc.asyncProperty(weighings, async (all) => {
          // A month of the second half, and a heading before it, so that no file is empty.
          fc.pre(
            all.some((w) => w.day < "2025-03-13") &&
              all.filter((w) => w.day >= "2025-03-15").length > 1,
          );
          const { study } = await agreedStudy(write(all));
          const truth = all.map(
            (w) => `${w.id} ${w.day} ${noon === true ? "12:00" : w.clock} ${w.grams}`,
          );
          expect(weighed(study)).toEqual(truth.sort());
          expect(study.counts.every((c) => c.rowsIn === c.accepted + c.setAside)).toBe(true);
          // Counted by the generator: one accepted row for each weighing, whatever line it came from.
          const own = study.counts.filter((c) => c.table === "weighings");
          expect(own.reduce((n, c) => n + c.accepted, 0)).toBe(all.length);
          const aside = study.setAside.filter((row) => row.table === "weighings").length;
          expect(own.reduce((n, c) => n + c.rowsIn, 0)).toBe(all.length + aside);
        }),
        { seed: 20261126, numRuns: 25 },
      );
    });

  it("sheets of a workbook, one for each animal, merged titles", async () => {
    const all = fc.sample(weighings, { seed: 20261127, numRuns: 1 })[0]!;
    const sheet = (id: "P1" | "P2") => ({
      rows: [
        [names[id], null, null],
        ["Date", "Time", "Weight (g)"],
        ...of(all, id).map((w): Value[] => [w.day, w.clock, w.grams]),
      ],
      merged: ["A1:C1"],
    });
    const { study } = await agreedStudy({
      "book.xlsx": makeWorkbook({ one: sheet("P1"), two: sheet("P2") }),
    });
    expect(weighed(study)).toEqual(all.map((w) => `${w.id} ${w.day} ${w.clock} ${w.grams}`).sort());
  });
});
