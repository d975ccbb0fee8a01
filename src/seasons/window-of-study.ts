import { type Notice, notice } from "../core/notice.js";
import type { StudySeries } from "../series/animal-series.js";
import { quantile } from "../stats/descriptive/quantile.js";
import { dayMs } from "../units/day-ms.js";
import { type AgeWindow, daysByAge } from "./gain-window.js";
import { usualWindow } from "./usual-window.js";

/** The ages between which the seasons of a study are compared, and where they come from. */
export interface StudyWindow {
  readonly window: AgeWindow;
  /** "shared ages": the usual ones fit no animal, and most animals share these. */
  readonly from: "usual" | "shared ages" | "asked for";
  /** Said where the usual ages were left; null where they stand. */
  readonly why: Notice | null;
}

/** Over fewer days than this a gain says little. */
const leastDays = 7;
/** Weighed days that a gain of the comparison needs. */
const leastWeighings = 6;

/**
 * The usual ages of a species where any animal of the study fills them; else the
 * ages that three in four animals share: from the age by which three in four
 * were first weighed to the age that three in four reached. Ages alone are read,
 * so the choice is settled before any gain is looked at.
 *
 * @example windowOfStudy(chicks, "chick").window // { fromAgeD: 0, toAgeD: 21 }
 */
export function windowOfStudy(study: StudySeries, species: string): StudyWindow {
  const usual = usualWindow(species, study.settings.speciesOverrides);
  const aged = study.animals.filter(
    (a) =>
      a.animal.species === species &&
      a.age.birth !== null &&
      a.age.usableForWeightForAge &&
      a.daily.length >= leastWeighings,
  );
  const fits = aged.some((a) => typeof daysByAge(a, usual, a.age.birth!, undefined) !== "string");
  const shared = fits
    ? null
    : sharedAges(aged.map((a) => a.daily.map((d) => (d.at - a.age.birth!) / dayMs)));
  if (shared === null) return { window: usual, from: "usual", why: null };
  const why = notice("season-window-shared", "caution", {
    species,
    usualFrom: usual.fromAgeD,
    usualTo: usual.toAgeD,
    ...shared,
  });
  return { window: shared, from: "shared ages", why };
}

function sharedAges(ages: readonly (readonly number[])[]): AgeWindow | null {
  const first = quantile(
    ages.map((a) => a[0]),
    0.75,
  );
  const last = quantile(
    ages.map((a) => a.at(-1)),
    0.25,
  );
  if (first === null || last === null) return null;
  // Weighed in the morning of a day an animal is a little younger than that day.
  const fromAgeD = Math.max(0, Math.round(first));
  const toAgeD = Math.round(last);
  return toAgeD - fromAgeD >= leastDays ? { fromAgeD, toAgeD } : null;
}
