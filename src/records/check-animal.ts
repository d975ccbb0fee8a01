import { notice } from "../core/notice.js";
import { addDays, localNoon } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { DraftRow } from "./draft-row.js";
import { placeOf, setAside } from "./set-aside.js";
import { settleBirth } from "./settle-birth.js";
import type { StudySettings } from "./study.js";

/** Checks what cannot be true inside one row of the animals, and fills in the one species. */
export function checkAnimal(draft: DraftRow, settings: StudySettings): void {
  settleBirth(draft, settings);
  if (draft.fault !== null) return;
  const only = settings.species.length === 1 ? settings.species[0]! : null;
  if (draft.get("species") === null) {
    if (only !== null) draft.set("species", only);
    else setAside(draft, "species", "records-empty-cell", "suggest-fill-cell", {});
  } else {
    const written = String(draft.get("species"));
    const known = settings.species.find((s) => s.toLowerCase() === written.toLowerCase());
    if (known !== undefined) draft.set("species", known);
    else if (settings.species.length > 0)
      draft.note(
        notice(
          "records-species-not-listed",
          "caution",
          { species: written, listed: settings.species },
          placeOf(draft, "species"),
        ),
      );
  }
  const admitted = draft.get("admittedAt") as number | null;
  const born = draft.get("birthDateEarliest") as string | null;
  const out = draft.get("outcomeDate") as string | null;
  if (born !== null && admitted !== null && admitted < localNoon(born, settings.zone) - dayMs)
    draft.note(
      notice("records-admitted-before-birth", "problem", { born }, placeOf(draft, "admitted_at")),
    );
  if (out !== null && admitted !== null && localNoon(addDays(out, 1), settings.zone) < admitted)
    draft.note(
      notice("records-outcome-before-arrival", "problem", { out }, placeOf(draft, "outcome_date")),
    );
  // Written as gone without a day, or with a day and not as gone: in care until somebody says.
  const outcome = draft.get("outcome") as string | null;
  const gone = outcome !== null && outcome !== "in care";
  const unread = draft.unread ?? {};
  if (gone && out === null && !("outcomeDate" in unread))
    draft.note(
      notice(
        "records-outcome-without-date",
        "problem",
        { outcome },
        placeOf(draft, "outcome_date"),
      ),
    );
  if (!gone && out !== null && !("outcome" in unread))
    draft.note(
      notice("records-date-without-outcome", "problem", { out }, placeOf(draft, "outcome")),
    );
}
