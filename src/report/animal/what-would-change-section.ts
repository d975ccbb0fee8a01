import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { WhatWouldChange } from "../../analysis/what-would-change.js";
import { noticeText } from "../../core/catalogue.js";
import type { Result } from "../../core/result.js";
import { screenWording } from "../../units/format.js";
import { caution, list, type Section, section, text } from "../section/section.js";

/** The findings of the next days that would change the picture, one line each. */
export function whatWouldChangeSection(
  analysis: StudyAnalysis,
  result: Result<"what-would-change", WhatWouldChange>,
): Section {
  const wording = screenWording(analysis.settings.zone);
  const { findings } = result.value;
  return section("Which finding would change the picture?", [
    findings.length === 0
      ? text("Nothing could be computed from these records.")
      : list(findings.map((f) => noticeText(f.sentence, wording))),
    caution(
      "Limits computed from weighings, no orders: what to do, and whether to wait at all, the attending veterinarian decides.",
    ),
  ]);
}
