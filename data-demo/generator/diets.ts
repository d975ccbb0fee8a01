import type { DemoTable } from "./demo-table.js";

/** Composition as fed, per cent of mass. */
export interface Parts {
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
export const ingredients: Readonly<
  Record<string, { readonly name: string; readonly parts: Parts }>
> = {
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
export const mixtures: Readonly<
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

export const energyOf = (p: Parts) => (4 * p.protein + 9 * p.fat + 4 * p.carbohydrate) / 100;

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

export const percent = (p: Parts) => [
  p.water.toFixed(1),
  p.protein.toFixed(1),
  p.fat.toFixed(1),
  p.carbohydrate.toFixed(1),
  "0",
  p.ash.toFixed(1),
];
