export { type AnalyseOptions, analyse } from "./analyse.js";
export { animalOf } from "./animal-of.js";
export { type ContemporaryFeeding, contemporaryFeeding } from "./contemporary-feeding.js";
export { agesAcross, curveHistories } from "./curve-histories.js";
export { curvePoints } from "./curve-points.js";
export { type CurveTrace, curveTrace, type TracePoint } from "./curve-trace.js";
export type { AnimalAnalysis, AnimalCurve, StudyAnalysis } from "./study-analysis.js";
export { studyUpTo } from "./study-up-to.js";
