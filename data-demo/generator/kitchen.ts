import type { Random } from "../../src/core/random.js";
import { civilDate, instantOf, localText, type Minute } from "./clock.js";
import type { DemoTable } from "./demo-table.js";
import { diets, energyOf, ingredients, mixtures, type Parts, percent } from "./diets.js";

/** One batch: what its energy truly is and when it was made. */
interface Batch {
  readonly id: string;
  readonly madeAt: Minute;
  readonly kcalPerG: number;
}

/**
 * The kitchen: formula is made twice a day (about 06:00 and 18:00), food
 * animals come in lots every ten days; the fat of a herring lot differs from
 * lot to lot and is written on it.
 */
export class Kitchen {
  private readonly formula = new Map<string, Batch>();
  private readonly grams = new Map<string, number>();
  private readonly lots = new Map<
    string,
    Batch & { readonly parts: Parts; readonly written: boolean }
  >();
  private readonly random: Random;

  constructor(random: Random) {
    this.random = random;
  }

  /** The batch a feed of this diet at this instant is taken from. */
  batchFor(dietId: string, at: Minute, day: number): Batch {
    return diets[dietId]!.kind === "formula"
      ? this.formulaBatch(dietId, at, day)
      : this.lot(dietId, day);
  }

  /** Notes how much was taken from a batch. */
  take(batchId: string, grams: number): void {
    this.grams.set(batchId, (this.grams.get(batchId) ?? 0) + grams);
  }

  private formulaBatch(dietId: string, at: Minute, day: number): Batch {
    const madeOn = (d: number, half: number): Batch => {
      const id = `${initials(dietId)}-${civilDate(d).slice(2).replaceAll("-", "")}-${half}`;
      const known = this.formula.get(id);
      if (known !== undefined) return known;
      const draw = this.random.split(
        d * 8 + half * 4 + dietId.length + initials(dietId).charCodeAt(1),
      );
      const made = instantOf(d, (half === 1 ? 345 : 1065) + draw.below(35));
      const batch = { id, madeAt: made, kcalPerG: diets[dietId]!.kcalPerG };
      this.formula.set(id, batch);
      return batch;
    };
    const candidates = [
      [day, 2],
      [day, 1],
      [day - 1, 2],
    ] as const;
    for (const [d, half] of candidates) {
      const batch = madeOn(d, half);
      if (batch.madeAt <= at) return batch;
    }
    return madeOn(day - 1, 1);
  }

  private lot(dietId: string, day: number): Batch {
    const first = Math.floor(day / 10) * 10;
    const id = `${dietId}-${civilDate(first).slice(2).replaceAll("-", "")}`;
    const known = this.lots.get(id);
    if (known !== undefined) return known;
    const draw = this.random.split(first * 16 + dietId.length);
    const base = ingredients[dietId]!.parts;
    const written = dietId === "herring";
    const fat = written ? Number((base.fat * Math.exp(0.12 * draw.normal())).toFixed(1)) : base.fat;
    const parts = { ...base, fat, water: Number((base.water + base.fat - fat).toFixed(1)) };
    const batch = {
      id,
      madeAt: instantOf(first - 1, 480),
      kcalPerG: Number(energyOf(parts).toFixed(3)),
      parts,
      written,
    };
    this.lots.set(id, batch);
    return batch;
  }

  /** Batches and what went into them; batches nothing was taken from are left out. */
  tables(): { readonly batches: DemoTable; readonly ingredients: DemoTable } {
    const batches: DemoTable = {
      name: "batches",
      columns: [
        "batch_id",
        "diet_id",
        "made_at",
        "mass_g",
        "use_by_h",
        "water_pct",
        "protein_pct",
        "fat_pct",
        "carbohydrate_pct",
        "fibre_pct",
        "ash_pct",
        "energy_kcal_per_g",
        "notes",
      ],
      rows: [],
    };
    const parts: DemoTable = {
      name: "ingredients",
      columns: ["batch_id", "diet_id", "mass_g"],
      rows: [],
    };
    for (const batch of this.formula.values()) {
      const taken = this.grams.get(batch.id);
      if (taken === undefined) continue;
      const mass = Math.ceil((taken * 1.1 + 40) / 50) * 50;
      const dietId = Object.keys(mixtures).find((id) => initials(id) === batch.id.slice(0, 2))!;
      batches.rows.push({
        order: batch.madeAt,
        cells: [batch.id, dietId, localText(batch.madeAt), String(mass), "24", ...blanks(7), ""],
      });
      for (const [id, perKg] of Object.entries(mixtures[dietId]!.of)) {
        const grams = String(Math.round((perKg * mass) / 1000));
        parts.rows.push({ order: batch.madeAt, cells: [batch.id, id, grams] });
      }
    }
    for (const lot of this.lots.values()) {
      const taken = this.grams.get(lot.id);
      if (taken === undefined) continue;
      const dietId = lot.id.slice(0, lot.id.lastIndexOf("-"));
      const composition = lot.written
        ? [...percent(lot.parts), energyOf(lot.parts).toFixed(3)]
        : blanks(7);
      batches.rows.push({
        order: lot.madeAt,
        cells: [
          lot.id,
          dietId,
          localText(lot.madeAt),
          String(Math.ceil((taken * 1.1) / 500) * 500),
          "",
          ...composition,
          lot.written ? "fat measured on delivery" : "",
        ],
      });
    }
    return { batches, ingredients: parts };
  }
}

const blanks = (n: number): string[] => Array.from({ length: n }, () => "");

function initials(dietId: string): string {
  return dietId === "seal-formula" ? "SF" : dietId === "otter-formula-2" ? "O2" : "O1";
}
