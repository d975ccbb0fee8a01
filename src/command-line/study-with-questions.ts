import type { Study } from "../records/study.js";
import type { StudySeries } from "../series/animal-series.js";

/**
 * The study with what is asked about its signs among its notices, and the rows asked
 * about counted as accepted with a notice: a line that cannot be read is no row in
 * order. A birth date that serves for nothing for want of its basis is asked about, too.
 */
export function studyWithQuestions(study: Study, series: StudySeries): Study {
  const questions = series.animals.flatMap((a) =>
    a.signs.flatMap((sign) => (sign.question === null ? [] : [sign.question])),
  );
  const placeOf = (n: Study["notices"][number]) => `${n.place?.file}:${n.place?.line}`;
  const noticed = new Set(study.notices.map(placeOf));
  const counts = study.counts.map((c) => {
    if (c.table !== "observations") return c;
    const more = questions.filter((n) => n.place?.file === c.file && !noticed.has(placeOf(n)));
    return { ...c, acceptedWithNotice: c.acceptedWithNotice + new Set(more.map(placeOf)).size };
  });
  return { ...study, counts, notices: [...study.notices, ...questions, ...agesAskedAbout(series)] };
}

/** Birth dates of unknown basis, each at its row of the animals table. */
function agesAskedAbout({ animals }: StudySeries): Study["notices"] {
  return animals.flatMap(({ animal, notices }) =>
    notices
      .filter((n) => n.code === "series-age-of-unknown-basis")
      .map((n) => ({
        ...n,
        place: {
          file: animal.origin.file,
          line: animal.origin.line,
          column: "birth_date_basis",
          animal: animal.animalId,
        },
      })),
  );
}
