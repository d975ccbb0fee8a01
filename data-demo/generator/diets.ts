import type { Random } from "../../src/core/random.js";
import { civilDate, dayNumber, instantOf, localText, type Minute } from "./clock.js";
import type { DemoTable } from "./demo-table.js";

/** Composition as fed, per cent of mass. */
interface Parts {
  readonly water: number;
  readonly protein: number;
  readonly fat: number;
  readonly carbohydrate: number;
  readonly ash: number;
}

/**
 * Ingredients. Herring, squid and clam: rounded from USDA SR as the project's
 * fact sheet gives them; cream and oil: common food-table values, from memory.
 * The mixtures below are invented and are no recipe.
 */
const ingredients: Readonly<Record<string, { readonly name: string; readonly parts: Parts }>> = {
  clam: {
    name: "clam meat",
    parts: { water: 79, protein: 14.7, fat: 1, carbohydrate: 3.6, ash: 1.7 },
  },
  squid: {
    name: "squid",
    parts: { water: 79.5, protein: 15.6, fat: 1.4, carbohydrate: 2.1, ash: 1.4 },
  },
  herring: {
    name: "herring",
    parts: { water: 67.3, protein: 16.4, fat: 13.9, carbohydrate: 0, ash: 2.4 },
  },
  cream: {
    name: "whipping cream",
    parts: { water: 58, protein: 2.8, fat: 36, carbohydrate: 2.8, ash: 0.4 },
  },
  "fish-oil": {
    name: "fish oil",
    parts: { water: 0, protein: 0, fat: 100, carbohydrate: 0, ash: 0 },
  },
  "sugar-water": {
    name: "dextrose 5 % in water",
    parts: { water: 95, protein: 0, fat: 0, carbohydrate: 5, ash: 0 },
  },
  water: { name: "water", parts: { water: 100, protein: 0, fat: 0, carbohydrate: 0, ash: 0 } },
};

/** Grams of each ingredient in a kilogram of formula. */
const mixtures: Readonly<
  Record<string, { readonly name: string; readonly of: Readonly<Record<string, number>> }>
> = {
  "otter-formula-1": {
    name: "otter formula, first mixture",
    of: { clam: 250, squid: 200, cream: 150, "fish-oil": 10, "sugar-water": 390 },
  },
  "otter-formula-2": {
    name: "otter formula, second mixture",
    of: { clam: 330, squid: 140, cream: 156, "fish-oil": 6, "sugar-water": 368 },
  },
  "seal-formula": { name: "seal formula", of: { herring: 560, "fish-oil": 50, water: 390 } },
};

export interface Diet {
  readonly id: string;
  readonly kind: "formula" | "solid" | "supplement";
  readonly kcalPerG: number;
}

const energyOf = (p: Parts) => (4 * p.protein + 9 * p.fat + 4 * p.carbohydrate) / 100;

function mixed(of: Readonly<Record<string, number>>): Parts {
  const sum = (part: keyof Parts) =>
    Object.entries(of).reduce((s, [id, g]) => s + (g * ingredients[id]!.parts[part]) / 1000, 0);
  return {
    water: sum("water"),
    protein: sum("protein"),
    fat: sum("fat"),
    carbohydrate: sum("carbohydrate"),
    ash: sum("ash"),
  };
}

const solids = ["clam", "squid", "herring"];

export const diets: Readonly<Record<string, Diet>> = Object.fromEntries([
  ...Object.entries(mixtures).map(([id, m]) => [
    id,
    { id, kind: "formula", kcalPerG: Number(energyOf(mixed(m.of)).toFixed(3)) } as Diet,
  ]),
  ...solids.map((id) => [
    id,
    {
      id,
      kind: "solid",
      kcalPerG: Number(energyOf(ingredients[id]!.parts).toFixed(3)),
    } as Diet,
  ]),
]);

export function dietTable(): DemoTable {
  const row = (
    id: string,
    name: string,
    kind: Diet["kind"],
    parts: Parts,
    density: string,
    useBy: string,
    order: number,
  ) => ({
    order,
    cells: [id, name, kind, ...percent(parts), energyOf(parts).toFixed(3), density, useBy],
  });
  const rows = [
    ...Object.entries(mixtures).map(([id, m], i) =>
      row(id, m.name, "formula", mixed(m.of), i === 2 ? "1.02" : "1.03", "24", i),
    ),
    ...Object.entries(ingredients).map(([id, e], i) =>
      row(
        id,
        e.name,
        solids.includes(id) ? "solid" : "supplement",
        e.parts,
        "",
        solids.includes(id) ? "48" : "",
        10 + i,
      ),
    ),
  ];
  return {
    name: "diets",
    columns: [
      "diet_id",
      "name",
      "kind",
      "water_pct",
      "protein_pct",
      "fat_pct",
      "carbohydrate_pct",
      "fibre_pct",
      "ash_pct",
      "energy_kcal_per_g",
      "density_g_per_ml",
      "use_by_h",
    ],
    rows,
  };
}

const percent = (p: Parts) => [
  p.water.toFixed(1),
  p.protein.toFixed(1),
  p.fat.toFixed(1),
  p.carbohydrate.toFixed(1),
  "0",
  p.ash.toFixed(1),
];

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

/** The first day on which the second otter mixture was used. */
export const SECOND_MIXTURE_FROM = dayNumber(2023, 1, 10);
/** The last day on which it was used. */
export const SECOND_MIXTURE_TO = dayNumber(2024, 1, 9);
