import type { BatchRow, Composition, DietRow, IngredientRow, Instant } from "../records/study.js";

/** One batch as it was made: what it holds, and by which rows that is known. */
export interface KitchenBatch {
  readonly batchId: string;
  readonly dietId: string;
  readonly madeAt: Instant;
  /**
   * "entered": numbers on the batch itself; "ingredients": from what was weighed
   * into it; "diet": nothing of its own is known.
   */
  readonly from: "entered" | "ingredients" | "diet";
  readonly composition: Composition;
  /** What the diet says that such a batch holds. */
  readonly dietComposition: Composition;
  /** Ingredients, g, and the batch as weighed whole. */
  readonly weighedG: number | null;
  readonly wholeG: number | null;
  /** Ingredients that the table of diets does not have. */
  readonly unknown: readonly string[];
  /**
   * True where the ingredients weigh more, or 2 % and more less, than the batch and
   * do not give its diet with water made up to the whole: they are not used then.
   */
  readonly doesNotAddUp: boolean;
}

/** Ingredients and the whole may differ by this share: spills and rounding. */
const addsUpWithin = 0.02;
/** Made up with unwritten water, a batch this near to its diet is taken to be so made. */
const nearDiet = 0.1;

const parts = [
  "waterPct",
  "proteinPct",
  "fatPct",
  "carbohydratePct",
  "fibrePct",
  "ashPct",
  "energyKcalPerG",
] as const satisfies readonly (keyof Composition)[];

/**
 * What every batch holds. Numbers entered on the batch come first, cell by cell;
 * else what its weighed ingredients add up to; else its diet's numbers. Batches of
 * diets that are not known are left out.
 *
 * @example kitchenBatches(diets, batches, ingredients).get("O1-210225-1")?.from // "ingredients"
 */
export function kitchenBatches(
  diets: ReadonlyMap<string, DietRow>,
  batches: readonly BatchRow[],
  ingredients: readonly IngredientRow[],
): ReadonlyMap<string, KitchenBatch> {
  const into = new Map<string, IngredientRow[]>();
  for (const row of ingredients) {
    const list = into.get(row.batchId);
    if (list === undefined) into.set(row.batchId, [row]);
    else list.push(row);
  }
  const out = new Map<string, KitchenBatch>();
  for (const batch of batches) {
    const diet = diets.get(batch.dietId);
    if (diet !== undefined)
      out.set(batch.batchId, made(batch, diet, into.get(batch.batchId), diets));
  }
  return out;
}

function made(
  batch: BatchRow,
  diet: DietRow,
  rows: readonly IngredientRow[] = [],
  diets: ReadonlyMap<string, DietRow>,
): KitchenBatch {
  const dietComposition = compositionOf(diet);
  const unknown = rows.filter((r) => !diets.has(r.dietId)).map((r) => r.dietId);
  const weighed = rows.reduce((sum, r) => sum + r.massG, 0);
  const mixed =
    rows.length === 0 || unknown.length > 0 || weighed <= 0
      ? null
      : mix(
          rows.map((r) => ({ massG: r.massG, ...compositionOf(diets.get(r.dietId)!) })),
          weighed,
          batch.massG,
          dietComposition,
        );
  const entered = parts.some((key) => batch[key] !== null);
  const base = mixed ?? dietComposition;
  return {
    batchId: batch.batchId,
    dietId: batch.dietId,
    madeAt: batch.madeAt,
    from: entered ? "entered" : mixed !== null ? "ingredients" : "diet",
    // A blank cell of a batch means what it was made of; an unread one is not known.
    composition: composition(
      (key) => batch[key] ?? (batch.unread?.[key] === undefined ? base[key] : null),
    ),
    dietComposition,
    weighedG: rows.length === 0 ? null : weighed,
    wholeG: batch.massG,
    unknown,
    doesNotAddUp: rows.length > 0 && unknown.length === 0 && mixed === null,
  };
}

/** The mix of the ingredients, made up with water where that gives the diet; null where they do not add up. */
function mix(
  rows: readonly (Composition & { readonly massG: number })[],
  weighed: number,
  whole: number | null,
  diet: Composition,
): Composition | null {
  const over = (total: number, water: number) =>
    composition((key) => {
      let sum = 0;
      for (const row of rows) {
        const part = row[key];
        if (part === null) return null;
        sum += row.massG * part;
      }
      return (sum + (key === "waterPct" ? 100 * water : 0)) / total;
    });
  if (whole === null || Math.abs(weighed - whole) <= addsUpWithin * whole) return over(weighed, 0);
  if (weighed > whole) return null;
  const madeUp = over(whole, whole - weighed);
  const solids = (c: Composition) =>
    c.proteinPct === null || c.fatPct === null ? null : c.proteinPct + c.fatPct;
  const [own, theirs] = [solids(madeUp), solids(diet)];
  return own !== null && theirs !== null && Math.abs(own - theirs) <= nearDiet * theirs
    ? madeUp
    : null;
}

/** The parts of a row that has them, and nothing else of it. */
export function compositionOf(row: Composition): Composition {
  return composition((key) => row[key]);
}

function composition(of: (key: (typeof parts)[number]) => number | null): Composition {
  return {
    waterPct: of("waterPct"),
    proteinPct: of("proteinPct"),
    fatPct: of("fatPct"),
    carbohydratePct: of("carbohydratePct"),
    fibrePct: of("fibrePct"),
    ashPct: of("ashPct"),
    energyKcalPerG: of("energyKcalPerG"),
  };
}
