import type { RowOrigin } from "../../records/study.js";
import { readSign, type SignSettings } from "./read-sign.js";
import type { Sign } from "./sign.js";

/** A row of another table, with what somebody wrote beside it. */
interface Noted {
  readonly at: number;
  readonly row: {
    readonly animalId: string | null;
    readonly notes: string | null;
    readonly origin: RowOrigin;
  };
}

/**
 * The signs of an animal with those that stand in the notes of its weighings and
 * feeds ("brought it all back up"), read like a note of the observations. A note
 * in which nothing is found is no sign.
 */
export function withNotes(
  signs: readonly Sign[],
  weighings: readonly Noted[],
  feeds: readonly Noted[],
  settings: SignSettings,
): readonly Sign[] {
  const noted = [...weighings, ...feeds].flatMap(({ at, row }): Sign[] => {
    const { animalId, notes, origin } = row;
    if (animalId === null || notes === null) return [];
    const sign = readSign(
      {
        animalId,
        at,
        kind: "note",
        value: null,
        valueText: notes,
        unit: null,
        notes: null,
        origin,
      },
      settings,
    );
    return sign.findings.length > 0 || sign.saidInWords !== undefined ? [sign] : [];
  });
  if (noted.length === 0) return signs;
  return [...signs, ...noted].sort((a, b) => a.at - b.at);
}
