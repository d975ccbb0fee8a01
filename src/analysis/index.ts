export { type AnalyseOptions, analyse } from "./analyse.js";
export { animalOf } from "./animal-of.js";
export { type ChangeOfGain, changeOfGain } from "./change-of-gain.js";
export { type ContemporaryFeeding, contemporaryFeeding } from "./contemporary-feeding.js";
export { agesAcross, curveHistories } from "./curve-histories.js";
export { curvePoints } from "./curve-points.js";
export { type CurveTrace, curveTrace, type TracePoint } from "./curve-trace.js";
export { examinationQuestions, type QuestionsFrom } from "./examination-questions.js";
export {
  type ExpectedDay,
  type ExpectedMass,
  type ExpectedWeek,
  type ExpectedWeekOptions,
  expectedWeek,
} from "./expected-week.js";
export { type IntakeAtTheMargin, intakeAtTheMargin } from "./intake-at-the-margin.js";
export type { RealAnswer, RealOrNot } from "./real-answer.js";
export { type RealOrNotOptions, realOrNot } from "./real-or-not.js";
export type { AnimalAnalysis, AnimalCurve, StudyAnalysis } from "./study-analysis.js";
export { studyUpTo } from "./study-up-to.js";
export { type Happening, type WhatHappenedOptions, whatHappened } from "./what-happened.js";
export {
  type DecisiveFinding,
  type WhatWouldChange,
  type WhatWouldChangeOptions,
  whatWouldChange,
} from "./what-would-change.js";
