import { askHandOver } from "../../../src/analysis/ask-hand-over.js";
import type { Study } from "../../../src/records/study.js";
import type { Plant } from "./true-study.js";

/** What the analysis says of one animal, as plain numbers and words. */
export interface Said {
  /** Daily mass by feeding day, g. */
  readonly mass: Readonly<Record<string, number>>;
  /** Eaten by feeding day, low and high, g. */
  readonly eaten: Readonly<Record<string, readonly [number, number]>>;
  /** Dangers, flags and holds by their kinds. */
  readonly raised: readonly string[];
  /** The feeds of the coming day as ordered. */
  readonly due: readonly string[];
}

/** Masses, intakes, dangers and orders of every animal in care. */
export async function whatItSays(study: Study): Promise<ReadonlyMap<string, Said>> {
  const { analysis, shift } = (await askHandOver(study)).value;
  const { value } = analysis;
  return new Map(
    value.animals
      .filter((a) => a.inCare)
      .map((a): [string, Said] => {
        const plan = shift?.animals.find((s) => s.animalId === a.animalId);
        const sheet = shift?.sheet.animals.find((s) => s.animalId === a.animalId);
        return [
          a.animalId,
          {
            mass: Object.fromEntries(a.series.daily.map((d) => [d.feedingDay, d.massG])),
            eaten: eatenByDay(a.series.feeds),
            raised: [
              ...(a.day?.raised ?? []).map((signal) => signal.kind),
              // A hand that writes less is heard of less often: that is no misreading.
              ...(plan?.hold.map((n) => n.code) ?? []).filter((c) => c !== "level-silence"),
              String(plan?.order.state),
            ].sort(),
            due: (sheet?.rows ?? []).map(
              (r) => `${r.time ?? "-"} ${r.dietId} ${r.g === null ? "?" : Math.round(r.g)}`,
            ),
          },
        ];
      }),
  );
}

/** Whether what was planted for an animal is said of it, by the kinds of its signals and holds. */
export function showsPlanted({ raised, due }: Said, plant: Plant): boolean {
  const some = (pattern: RegExp) => raised.some((kind) => pattern.test(kind));
  switch (plant) {
    case "cold":
      return some(/temperature/);
    case "vomit twice":
      return some(/vomit|lost-feed|came up/);
    case "loss":
      return some(/loss/);
    case "missed feeds":
      return some(/missed feed|no feed|silent|no entries/);
    case "nil by mouth":
      return due.length === 0;
    case "nothing":
      return !some(/temperature|vomit|lost-feed|loss|missed feed|no feed/);
  }
}

function eatenByDay(
  feeds: readonly {
    readonly feedingDay: string;
    readonly eatenLowG: number;
    readonly eatenHighG: number;
  }[],
): Record<string, readonly [number, number]> {
  const days: Record<string, readonly [number, number]> = {};
  for (const f of feeds) {
    const [low, high] = days[f.feedingDay] ?? [0, 0];
    days[f.feedingDay] = [low + f.eatenLowG, high + f.eatenHighG];
  }
  return days;
}

/**
 * What differs between two analyses of one animal, in words; empty when nothing
 * does. Where clock times could not be written only amounts are compared.
 */
export function saidDifferently(a: Said, b: Said, onlyAmounts: boolean): string[] {
  const near = (x: number | undefined, y: number | undefined) =>
    x !== undefined && y !== undefined && Math.abs(x - y) <= Math.max(2, 0.002 * x);
  const days = (of: "mass" | "eaten") => [
    ...new Set([...Object.keys(a[of]), ...Object.keys(b[of])]),
  ];
  return [
    ...days("mass")
      .filter((d) => !near(a.mass[d], b.mass[d]))
      .map((d) => `mass of ${d}: ${a.mass[d]}, ${b.mass[d]}`),
    ...days("eaten")
      .filter(
        (d) => !near(a.eaten[d]?.[0], b.eaten[d]?.[0]) || !near(a.eaten[d]?.[1], b.eaten[d]?.[1]),
      )
      .map((d) => `eaten on ${d}: ${a.eaten[d]}, ${b.eaten[d]}`),
    ...(onlyAmounts || a.raised.join() === b.raised.join()
      ? []
      : [`raised: ${a.raised}; ${b.raised}`]),
    ...(onlyAmounts || sameDue(a.due, b.due) ? [] : [`due: ${a.due}; ${b.due}`]),
  ];
}

/** The same feeds; a gram may differ where amounts were converted. */
function sameDue(a: readonly string[], b: readonly string[]): boolean {
  const cut = (feed: string) => feed.split(" ") as [string, string, string];
  return (
    a.length === b.length &&
    a.every((feed, i) => {
      const [time, diet, g] = cut(feed);
      const [time2, diet2, g2] = cut(b[i]!);
      return time === time2 && diet === diet2 && Math.abs(Number(g) - Number(g2)) <= 1;
    })
  );
}
