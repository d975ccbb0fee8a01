import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { signAlerts } from "../../../src/rates/sign-alerts.js";
import { canonicalSign } from "../../../src/series/signs/canonical-sign.js";
import { showsIllness } from "../../../src/series/signs/shows-illness.js";
import type { Sign } from "../../../src/series/signs/sign.js";
import { signTable } from "../../../src/series/signs/sign-table.js";
import { signsOf } from "../../../src/series/signs/signs-of.js";
import { rowOf, signOf } from "./row-of.js";
import { writtenCells } from "./written-cells.js";

const cell = fc.constantFrom(...writtenCells);
const meaning = ({ state, sure, measure, count, amount, findings }: Sign) => ({
  state,
  sure,
  measure,
  count,
  amount,
  findings,
});
const rank = { "second look": 1, danger: 2 } as const;
const levelOf = (signs: readonly Sign[]) =>
  Math.max(0, ...signAlerts(signs).map((a) => rank[a.level]));

describe("laws of signs", () => {
  it.each(writtenCells.filter(([kind]) => !["note", "exam", "milestone"].includes(kind)))(
    "%s %j %j and its canonical form are one sign",
    (kind, value, unit) => {
      const sign = signOf(kind, value, unit);
      const form = canonicalSign(sign);
      const again = signOf(kind, form.valueText, form.unit ?? "");
      expect(meaning(again)).toEqual(meaning(sign));
    },
  );

  it("spaces, capitals and a full stop change no meaning", () => {
    fc.assert(
      fc.property(
        cell,
        fc.constantFrom("upper", "spaces", "stop"),
        ([kind, value, unit], habit) => {
          fc.pre(value !== "" && !/[?°º′″'"]$|^\d+\.?$/.test(value));
          const other =
            habit === "upper"
              ? value.toUpperCase()
              : habit === "spaces"
                ? `  ${value.replaceAll(" ", "   ")} `
                : /\d$/.test(value)
                  ? value
                  : `${value}.`;
          expect(meaning(signOf(kind, other, unit))).toEqual(meaning(signOf(kind, value, unit)));
        },
      ),
      { seed: 41_711, numRuns: 600 },
    );
  });

  it("every word of the tables is read, in every kind that takes it", () => {
    for (const kind of signTable) {
      if (kind.holds === "measured" || kind.holds === "free") continue;
      for (const word of kind.none)
        expect([word, signOf(kind.kind, word).state]).toEqual([word, "none"]);
      if (kind.holds === "treatment") continue;
      for (const { says, finding } of [...kind.findings, ...(kind.ownFindings ?? [])])
        for (const word of says)
          expect([word, ...signOf(kind.kind, word).findings]).toContain(finding);
      for (const { says } of kind.well ?? [])
        for (const word of says) {
          const { state, findings } = signOf(kind.kind, word);
          expect([word, state, findings]).toEqual([
            word,
            kind.holds === "state" ? "none" : "present",
            [],
          ]);
        }
    }
  });

  it("every unit of the tables is read, in the cell and beside it", () => {
    for (const { kind, measuring } of signTable) {
      for (const unit of measuring?.units ?? []) {
        const [low, high] = measuring!.usual;
        const own = (low + high) / 2;
        const value = String(Number((own / unit.scale - (unit.shift ?? 0)).toPrecision(6)));
        for (const says of unit.spellings) {
          // "3 1-5" is no way to write three of five in one cell.
          const inCell = signOf(kind, `${value} ${/^\d/.test(says) ? unit.name : says}`);
          const beside = signOf(kind, value, says);
          expect([says, inCell.sure, beside.sure]).toEqual([says, true, true]);
          expect(inCell.measure!.low).toBeCloseTo(own, 2);
          expect(beside.measure).toEqual(inCell.measure);
        }
      }
    }
  });

  it("a doubt never lowers a level", () => {
    fc.assert(
      fc.property(
        cell,
        fc.constantFrom("?", " ?", ", not sure", " possibly", " see sheet"),
        ([kind, value, unit], doubt) => {
          fc.pre(value !== "");
          const sure = levelOf([signOf(kind, value, unit)]);
          expect(levelOf([signOf(kind, `${value}${doubt}`, unit)])).toBeGreaterThanOrEqual(sure);
        },
      ),
      { seed: 41_712, numRuns: 1000 },
    );
  });

  it("a further line never lowers a level, whatever it says", () => {
    fc.assert(
      fc.property(fc.array(cell, { maxLength: 6 }), cell, (cells, more) => {
        const at = Date.UTC(2025, 4, 10, 8);
        const rows = cells.map(([kind, value, unit], i) =>
          rowOf(kind, value, unit, null, at + i * 3_600_000),
        );
        const [kind, value, unit] = more;
        const later = rowOf(kind, value, unit, null, at + 6 * 3_600_000);
        const read = (all: typeof rows) => signsOf(all, { decimal: "point" });
        expect(levelOf(read([...rows, later]))).toBeGreaterThanOrEqual(levelOf(read(rows)));
      }),
      { seed: 41_713, numRuns: 500 },
    );
  });

  it("a line that says none, or is routine, makes no day unwell; one that says some does", () => {
    for (const [kind, value, unit, said] of writtenCells) {
      const ill = showsIllness(signOf(kind, value, unit));
      if (/^(none|not looked|unclear)( \?)?$/.test(said) || said.includes("[routine]"))
        expect([value, ill]).toEqual([value, false]);
      if (kind === "vomit" && said.startsWith("present"))
        expect([value, ill]).toEqual([value, true]);
      if (said.includes("[treatment of illness]")) expect([value, ill]).toEqual([value, true]);
    }
  });
});
