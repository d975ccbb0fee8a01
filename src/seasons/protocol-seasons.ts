import type { StudySeries } from "../series/animal-series.js";
import { civilDayOf } from "../units/calendar.js";
import { formatDate } from "../units/format-date.js";
import type { ProtocolChangeSeason } from "./protocol-statements.js";

/**
 * Seasons that began under another protocol than the season before, as the
 * events table tells: a "protocol change" of the study or of a season lies
 * between the first arrivals of the two. A note that names only other species of
 * the study is passed over; otherwise what it says is passed on as it stands.
 *
 * @example protocolSeasons(series, "sea otter").map((each) => each.season) // ["2024"]
 */
export function protocolSeasons(study: StudySeries, species: string): ProtocolChangeSeason[] {
  const first = new Map<string, number>();
  for (const { animal } of study.animals) {
    if (animal.species !== species || animal.season === null || animal.admittedAt === null)
      continue;
    const known = first.get(animal.season) ?? Number.POSITIVE_INFINITY;
    first.set(animal.season, Math.min(known, animal.admittedAt));
  }
  const seasons = [...first].sort((a, b) => a[1] - b[1]);
  const changes = study.events.filter(
    (e) =>
      e.kind === "protocol change" &&
      (e.scope === "study" || e.scope === "season") &&
      concerns(e.notes ?? "", species, study.settings.species),
  );
  return seasons.flatMap(([season, begins], i) => {
    const before = seasons[i - 1]?.[1];
    // What changed before the first season of the study is its protocol, not a change.
    if (before === undefined) return [];
    const within = changes.filter((e) => e.at > before && e.at <= begins);
    if (within.length === 0) return [];
    const what = within
      .map((e) => {
        const day = formatDate(civilDayOf(e.at, study.settings.zone));
        return e.notes === null ? day : `${day}: ${e.notes}`;
      })
      .join("; ");
    return [{ season, what }];
  });
}

/** False where the note names another species of the study and not this one ("otters: ..."). */
function concerns(note: string, species: string, all: readonly string[]): boolean {
  const names = (one: string) => {
    const word = one.trim().split(/\s+/).at(-1) ?? one;
    return new RegExp(`\\b${word.replace(/[^\p{L}\p{N}]/gu, ".")}s?\\b`, "iu").test(note);
  };
  return names(species) || !all.some((other) => other !== species && names(other));
}
