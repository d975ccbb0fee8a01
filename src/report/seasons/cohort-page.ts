import type { CohortAnswer } from "../../analysis/ask-cohort.js";
import type { Chart } from "../../charts/chart.js";
import { rowsNotUsed } from "../records/rows-not-used.js";
import { namesOf } from "../section/animal-label.js";
import type { Block } from "../section/section.js";
import { withNames } from "../section/with-names.js";
import {
  cohortAveragePicture,
  cohortCurvesPicture,
  cohortGainsPicture,
} from "./cohort-pictures.js";
import { cohortAverageTable, cohortTable, replayTable } from "./cohort-tables.js";

type Part = readonly (Block | Chart)[];

/** The parts of the page about a cohort's curves; each can be shown by itself. */
export interface CohortPage {
  readonly records: Part;
  readonly cohort: Part;
  readonly curves: Part;
  /** The averaged curve: mass, gain, and both at the ends of the ages asked about. */
  readonly average: Part;
  readonly replay: Part;
  readonly gains: Part;
}

/**
 * A cohort's curves as parts to show.
 *
 * @example cohortPage((await askCohort(study, options)).value).average.length // 3
 */
export function cohortPage(answer: CohortAnswer): CohortPage {
  const { cohort, fitted } = answer;
  const analysis = answer.analysis.value;
  const said = (notices: typeof cohort.notices): Block[] =>
    notices.length === 0 ? [] : [{ kind: "notices", notices }];
  const page: CohortPage = {
    records: [rowsNotUsed(analysis)],
    cohort: [cohortTable(cohort), ...said(cohort.notices)],
    curves: fitted === null ? [] : [cohortCurvesPicture(cohort, fitted.typical)],
    average:
      fitted === null
        ? []
        : [
            cohortAveragePicture(fitted.average),
            cohortAveragePicture(fitted.average, "gain"),
            cohortAverageTable(fitted.averageAtEnds),
            ...said(fitted.average.notices),
          ],
    replay: [replayTable(answer.replay)],
    gains:
      fitted === null
        ? []
        : [cohortGainsPicture(fitted.gains, fitted.average, namesOf(analysis.animals))],
  };
  return withNames(page, analysis);
}
