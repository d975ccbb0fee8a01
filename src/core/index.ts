export { noticeText } from "./catalogue.js";
export { type CancelSignal, type LongWork, type Progress, stopIfCancelled } from "./long-work.js";
export { type Interval, type Measured, measured, notDefined } from "./measured.js";
export {
  type Notice,
  type NoticeLevel,
  notice,
  type Place,
} from "./notice.js";
export { type ParallelWork, runJobs } from "./parallel.js";
export { type Random, seededRandom } from "./random.js";
export type { Basis, LeftOut, Method, Result } from "./result.js";
export type { NoticeCode, ParametersOf } from "./sentences.js";
export { UsageError } from "./usage-error.js";
export {
  type Given,
  type NoticeParameter,
  plainWording,
  type Sentence,
  type Wording,
} from "./wording.js";
