import { type Notice, notice } from "../core/notice.js";
import { convert, dimensionOf } from "../units/quantity.js";
import { readQuantity } from "../units/read-quantity.js";
import type { DraftRow, Drafts, DraftVolume } from "./draft-row.js";
import type { ColumnReading } from "./read-cell.js";
import { setAside } from "./set-aside.js";

/** The millilitres that a cell of mass says; null where it says something else. */
export function volumeOf(cell: string, how: ColumnReading): DraftVolume | null {
  const bare = how.unit !== null && dimensionOf(how.unit) === "volume";
  if (!bare && !/l\.?\s*$/i.test(cell)) return null;
  const read = readQuantity(cell, how.decimal);
  if (read.kind !== "number" || read.value < 0) return null;
  const unit = read.unit ?? how.unit;
  if (unit === null || dimensionOf(unit) !== "volume") return null;
  return { column: how.column.name, key: how.column.key, ml: convert(read.value, unit, "mL") };
}

/**
 * Turns millilitres into grams where the diet's density is known (by the row's
 * diet, or that of its batch); other rows are set aside, since a volume alone
 * is no mass.
 */
export function weighVolumes(drafts: Drafts, notices: Notice[]): void {
  const feeds = (drafts.get("feeds") ?? []).filter((d) => d.volumes !== undefined);
  if (feeds.length === 0) return;
  const density = new Map<unknown, unknown>();
  for (const diet of drafts.get("diets") ?? [])
    if (diet.fault === null) density.set(diet.get("dietId"), diet.get("densityGPerMl"));
  const dietOfBatch = new Map<unknown, unknown>();
  for (const batch of drafts.get("batches") ?? [])
    if (batch.fault === null) dietOfBatch.set(batch.get("batchId"), batch.get("dietId"));
  const weighed = new Map<string, number>();
  for (const draft of feeds) {
    const diet = draft.get("dietId") ?? dietOfBatch.get(draft.get("batchId")) ?? null;
    const perMl = density.get(diet);
    if (typeof perMl !== "number") {
      noDensity(draft, typeof diet === "string" ? diet : null);
      continue;
    }
    for (const { key, ml } of draft.volumes!) draft.set(key, Number((ml * perMl).toPrecision(12)));
    weighed.set(String(diet), (weighed.get(String(diet)) ?? 0) + 1);
  }
  for (const [diet, count] of weighed)
    notices.push(
      notice(
        "records-volumes-weighed",
        "info",
        { count, diet, density: density.get(diet) as number },
        { table: "feeds" },
      ),
    );
}

function noDensity(draft: DraftRow, diet: string | null): void {
  const { column } = draft.volumes![0]!;
  setAside(draft, column, "records-volume-without-density", "suggest-add-density", { diet });
}
