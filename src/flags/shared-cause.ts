import { type Notice, notice } from "../core/notice.js";
import type { CivilDate, EventRow, StudySeries } from "../series/animal-series.js";
import type { FeedingDaySpan } from "../units/calendar.js";
import { hourMs } from "../units/hour-ms.js";
import type { PreparedAnimal } from "./animal-day/prepared-animal.js";
import { isFailedCheck } from "./rules/known-weight-check.js";

/** A fall that several animals share on one day. Individual flags stay as they are. */
export interface SharedCause {
  readonly day: CivilDate;
  /** Animals weighed that day that fell short of what was expected of them, worst first. */
  readonly animals: readonly { readonly animalId: string; readonly surprise: number }[];
  readonly judged: number;
  /** Probability of so many by chance, were the surprises independent. */
  readonly chance: number;
  /** What to look at; the scale is concluded only by a check or by two scales. */
  readonly toLookAt: readonly Notice[];
  readonly scale: "failed check" | "scales disagree" | "not concluded";
  readonly sentence: Notice;
}

export interface SharedCauseOptions {
  /** A surprise at or below this counts as a fall. Default -1.5. */
  readonly fall?: number;
  /** Fewest animals. Default 3. */
  readonly fewest?: number;
  /** Reported where chance would bring so many on fewer than this share of days. Default 0.001. */
  readonly chance?: number;
  /** A known-weight check fails beyond this share of the known mass. Default 0.01, at least 5 g. */
  readonly checkShare?: number;
}

/**
 * Looks for a fall shared by several animals on one day: more animals with a
 * surprise of -1.5 or lower than chance would bring (6.68 % each; binomial). It
 * is reported at once and never explained away as the scale alone: the list of
 * what to look at always holds scale, formula, illness, heat or water, and staff
 * routine, each with what the records say. "Scale" is concluded only from a
 * failed known-weight check or from two scales that disagree on the same animals.
 *
 * @example sharedCause(study, prepared, day, span, surprises, false)?.animals.length // 5
 */
export function sharedCause(
  study: StudySeries,
  prepared: Pick<ReadonlyMap<string, PreparedAnimal>, "get">,
  day: CivilDate,
  span: FeedingDaySpan,
  surprises: readonly { readonly animalId: string; readonly surprise: number }[],
  scalesDisagree: boolean,
  options: SharedCauseOptions = {},
): SharedCause | null {
  const fall = options.fall ?? -1.5;
  const judged = surprises.filter((s) => Number.isFinite(s.surprise));
  const animals = judged.filter((s) => s.surprise <= fall).sort((a, b) => a.surprise - b.surprise);
  if (animals.length < (options.fewest ?? 3)) return null;
  const chance = atLeast(animals.length, judged.length, 0.0668);
  if (chance >= (options.chance ?? 0.001)) return null;

  const checks = study.scaleChecks.filter((c) => c.at >= span.from && c.at < span.to);
  const used = new Set(
    animals.flatMap(({ animalId }) =>
      (prepared.get(animalId)?.series.weighings ?? [])
        .filter((w) => w.at >= span.from && w.at < span.to && w.row.scaleId !== null)
        .map((w) => w.row.scaleId!),
    ),
  );
  const failed = checks.filter((c) => used.has(c.scaleId) && isFailedCheck(c, options.checkShare));
  const scale =
    failed.length > 0 ? "failed check" : scalesDisagree ? "scales disagree" : "not concluded";
  const batches = new Map<string, number>();
  for (const { animalId } of animals) {
    const feeds = prepared.get(animalId)?.series.feeds ?? [];
    const own = new Set(
      feeds
        .filter((f) => f.at < span.to && f.at >= span.from - 24 * hourMs && f.row.batchId !== null)
        .map((f) => f.row.batchId!),
    );
    for (const b of own) batches.set(b, (batches.get(b) ?? 0) + 1);
  }
  const common = [...batches].filter(([, n]) => n >= animals.length * 0.8).map(([b]) => b);
  const events = study.events.filter(
    (e) => e.at < span.to && (e.to ?? e.at) >= span.from - 48 * hourMs,
  );
  const names = (...kinds: readonly EventRow["kind"][]) =>
    kinds.flatMap((kind) => events.filter((e) => e.kind === kind).map((e) => e.notes ?? kind));
  const toLookAt: Notice[] = [
    notice("shared-scale", scale === "not concluded" ? "caution" : "problem", {
      scales: [...used],
      checks: checks.filter((c) => used.has(c.scaleId)).length,
      failed: failed.map((c) => c.scaleId),
      disagree: scalesDisagree,
    }),
    notice("shared-formula", "caution", { batches: common, events: names("milk change") }),
    notice("shared-illness", "caution", { events: names("illness in group") }),
    notice("shared-surroundings", "caution", {
      events: names("outage", "heat", "cold", "move"),
    }),
    notice("shared-routine", "caution", {
      events: names("staff", "protocol change"),
    }),
  ];
  return {
    day,
    animals,
    judged: judged.length,
    chance,
    toLookAt,
    scale,
    sentence: notice("shared-cause", "problem", {
      day,
      n: animals.length,
      judged: judged.length,
      animals: animals.map((a) => a.animalId),
    }),
  };
}

/** P(X >= k) of a binomial with n trials and probability p, summed from the small end. */
function atLeast(k: number, n: number, p: number): number {
  let total = 0;
  for (let i = k; i <= n; i++) {
    let log = i * Math.log(p) + (n - i) * Math.log1p(-p);
    for (let j = 1; j <= i; j++) log += Math.log((n - i + j) / j);
    total += Math.exp(log);
  }
  return Math.min(1, total);
}
