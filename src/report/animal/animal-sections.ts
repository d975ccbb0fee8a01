import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { conversionTable } from "../day/conversion-table.js";
import { caution, chartBlock, type Section, section } from "../section/section.js";
import { animalRecordsSection } from "./animal-records-section.js";
import { animalSummary } from "./animal-summary.js";
import { curvesTable } from "./curves-table.js";
import { firstWeekSections } from "./first-week-section.js";
import { flagEvidenceTable } from "./flag-evidence-table.js";
import { flagLogTable } from "./flag-log-table.js";
import { gainPicture } from "./gain-picture.js";
import { growthCurvePicture } from "./growth-curve-picture.js";
import { intakePicture } from "./intake-picture.js";
import { massAmongOthersPicture } from "./masses-picture.js";
import { observationsTable } from "./observations-table.js";
import { signsByDayTable } from "./signs-by-day-table.js";
import { timelinePicture } from "./timeline-picture.js";

/** The page of one animal, for the veterinarian or the authority. */
export function animalSections(analysis: StudyAnalysis, animal: AnimalAnalysis): Section[] {
  return [
    animalSummary(analysis, animal),
    ...firstWeekSections(animal, analysis.settings.zone),
    section("Growth", [
      chartBlock(massAmongOthersPicture(analysis, animal)),
      chartBlock(growthCurvePicture(animal)),
      curvesTable(animal),
      chartBlock(gainPicture(animal)),
    ]),
    section("Feeding", [chartBlock(intakePicture(animal)), conversionTable(analysis, [animal])]),
    section("What was seen", [
      chartBlock(timelinePicture(analysis, animal)),
      signsByDayTable(analysis, animal),
      observationsTable(analysis, animal),
    ]),
    section("Flags of the day and what was done", [
      flagEvidenceTable(analysis, animal),
      flagLogTable(analysis, { animalId: animal.animalId }),
      caution(
        "A flag asks for a second look. It is no diagnosis; the attending veterinarian decides.",
      ),
    ]),
    animalRecordsSection(analysis, animal),
  ];
}
