import type { SlowGainerAnswer } from "../../analysis/ask-slow-gainer.js";
import type { Chart } from "../../charts/chart.js";
import type { Block, Section } from "../section/section.js";
import { animalRecordsSection } from "./animal-records-section.js";
import { animalSummary } from "./animal-summary.js";
import { changeOfGainSection } from "./change-of-gain-section.js";
import { contemporaryFeedingTable } from "./contemporary-feeding-table.js";
import { contemporaryZTable } from "./contemporary-z-table.js";
import { curvesTable } from "./curves-table.js";
import { expectedWeekPicture } from "./expected-week-picture.js";
import { expectedWeekSection, expectedWeekTable } from "./expected-week-table.js";
import { flagEvidenceTable } from "./flag-evidence-table.js";
import { flagLogTable } from "./flag-log-table.js";
import { growthCurvePicture } from "./growth-curve-picture.js";
import { happeningsTable } from "./happenings-table.js";
import { inShortSection } from "./in-short-section.js";
import { massForLengthTable } from "./mass-for-length-table.js";
import { massAmongOthersPicture } from "./masses-picture.js";
import { missingGramsTable } from "./missing-grams-table.js";
import { questionsSection } from "./questions-section.js";
import { realOrNotTable } from "./real-or-not-table.js";
import { rhythmTable } from "./rhythm-table.js";
import { timelinePicture } from "./timeline-picture.js";
import { whatWouldChangeSection } from "./what-would-change-section.js";

type Part = readonly (Section | Block | Chart)[];

/** The parts of a slow gainer's page, in reading order; each can be shown by itself. */
export interface SlowGainerPage {
  readonly inShort: Part;
  readonly real: Part;
  readonly records: Part;
  readonly sinceWhen: Part;
  readonly happened: Part;
  readonly rhythm: Part;
  readonly amongOthers: Part;
  readonly massForLength: Part;
  readonly feedingAmongOthers: Part;
  readonly missing: Part;
  readonly nextWeek: Part;
  readonly whatWouldChange: Part;
  readonly flag: Part;
  readonly curve: Part;
  readonly questions: Part;
}

/**
 * A slow gainer as parts to show.
 *
 * @example slowGainerPage((await askSlowGainer(study, { animal: "O24-02" })).value).inShort.length // 2
 */
export function slowGainerPage(answer: SlowGainerAnswer): SlowGainerPage {
  const { animal, change, happened, week, missing, margin } = answer;
  const analysis = answer.analysis.value;
  return {
    inShort: [animalSummary(analysis, animal), inShortSection(analysis, animal, answer)],
    real: [realOrNotTable(analysis, answer.real)],
    records: [animalRecordsSection(analysis, animal)],
    sinceWhen: [
      changeOfGainSection(analysis, change),
      timelinePicture(analysis, animal, {
        days: answer.shownDays,
        change: change.value,
        happened,
      }),
    ],
    happened: [happeningsTable(analysis, animal, happened)],
    rhythm: [rhythmTable(analysis, answer.rhythm)],
    amongOthers: [massAmongOthersPicture(analysis, animal), contemporaryZTable(analysis, animal)],
    massForLength: [massForLengthTable(analysis, answer.massForLength, animal.animalId)],
    feedingAmongOthers: [contemporaryFeedingTable(answer.contemporaryFeeding)],
    missing: [
      missingGramsTable(missing, margin),
      {
        kind: "notices",
        notices: missing.notices.filter((n) => n.code.startsWith("contemporaries")),
      },
    ],
    nextWeek: [
      expectedWeekSection(analysis, week),
      expectedWeekPicture(animal, week),
      expectedWeekTable(week),
    ],
    whatWouldChange: [whatWouldChangeSection(analysis, answer.whatWouldChange)],
    flag: [
      flagEvidenceTable(analysis, animal),
      flagLogTable(analysis, { animalId: animal.animalId }),
    ],
    curve: [growthCurvePicture(animal), curvesTable(animal)],
    questions: [questionsSection(analysis, answer.questions)],
  };
}
