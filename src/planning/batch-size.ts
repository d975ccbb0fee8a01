import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { hourMs } from "../units/hour-ms.js";
import type { Ration } from "./ration.js";

export interface BatchSizeOptions {
  /** When the batch will be ready. */
  readonly from: number;
  /** Hours it has to last. Default 12 (common practice). */
  readonly hours?: number;
  /** Spare for spills, %. Default 5 (own choice). */
  readonly sparePct?: number;
}

export interface BatchNeed {
  readonly dietId: string;
  /** Fed in those hours, g, and the batch to make, whole grams. */
  readonly fedG: number;
  readonly batchG: number;
  readonly feeds: number;
  readonly animals: readonly string[];
}

/**
 * How much of each formula to make for the next hours (default twelve), to the
 * gram: every planned feed of formula in [from, from + hours) over all animals,
 * plus a spare, rounded up. Animals on hold are named and not counted.
 *
 * @param rations rations that cover the hours, of one or more feeding days.
 * @example batchSize(rations, { from }).value[0] // { dietId: "otter-formula", fedG: 1260, batchG: 1323, ... }
 */
export function batchSize(
  rations: readonly Ration[],
  options: BatchSizeOptions,
): Result<"batch-size", readonly BatchNeed[]> {
  const hours = options.hours ?? 12;
  const sparePct = options.sparePct ?? 5;
  if (!(hours > 0) || !(sparePct >= 0)) {
    throw new UsageError({
      needed: "hours above zero and a spare of zero or more",
      came: `${hours} h and ${sparePct} % came`,
      where: "batchSize",
      todo: "Give how long the batch has to last.",
    });
  }
  const end = options.from + hours * hourMs;
  const needs = new Map<string, { fedG: number; feeds: number; animals: Set<string> }>();
  for (const r of rations) {
    for (const f of r.feeds) {
      if (f.kind !== "formula" || f.at < options.from || f.at >= end) continue;
      const need = needs.get(f.dietId) ?? { fedG: 0, feeds: 0, animals: new Set<string>() };
      need.fedG += f.g;
      need.feeds++;
      need.animals.add(r.animalId);
      needs.set(f.dietId, need);
    }
  }
  const held = [...new Set(rations.filter((r) => r.status === "hold").map((r) => r.animalId))];
  const notices: Notice[] =
    held.length === 0 ? [] : [notice("batch-animals-on-hold", "caution", { animals: held })];
  return {
    kind: "batch-size",
    schema: 1,
    value: [...needs].map(([dietId, n]) => ({
      dietId,
      fedG: n.fedG,
      batchG: Math.ceil(n.fedG * (1 + sparePct / 100) - 1e-9),
      feeds: n.feeds,
      animals: [...n.animals],
    })),
    method: {
      name: "Sum of planned feeds",
      options: { from: options.from, hours, sparePct },
      citations: [],
    },
    basis: { used: rations.length - held.length, leftOut: [], of: "rations" },
    diagnostics: {},
    notices,
  };
}
