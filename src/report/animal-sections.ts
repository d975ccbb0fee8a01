import type { AnimalAnalysis, StudyAnalysis } from "../analysis/study-analysis.js";
import { gainPicture } from "./pictures/gain-picture.js";
import { growthCurvePicture } from "./pictures/growth-curve-picture.js";
import { intakePicture } from "./pictures/intake-picture.js";
import { massAmongOthersPicture } from "./pictures/masses-picture.js";
import { timelinePicture } from "./pictures/timeline-picture.js";
import { caution, chartBlock, type Section, section } from "./section.js";
import { animalRecordsSection } from "./tables/animal-records-section.js";
import { animalSummary } from "./tables/animal-summary.js";
import { conversionTable } from "./tables/conversion-table.js";
import { curvesTable } from "./tables/curves-table.js";
import { flagEvidenceTable } from "./tables/flag-evidence-table.js";
import { flagLogTable } from "./tables/flag-log-table.js";
import { observationsTable } from "./tables/observations-table.js";

/** The page of one animal, for the veterinarian or the authority. */
export function animalSections(analysis: StudyAnalysis, animal: AnimalAnalysis): Section[] {
  return [
    animalSummary(analysis, animal),
    section("Growth", [
      chartBlock(massAmongOthersPicture(analysis, animal)),
      chartBlock(growthCurvePicture(animal)),
      curvesTable(animal),
      chartBlock(gainPicture(animal)),
    ]),
    section("Feeding", [chartBlock(intakePicture(animal)), conversionTable(analysis, [animal])]),
    section("What was seen", [
      chartBlock(timelinePicture(analysis, animal)),
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
