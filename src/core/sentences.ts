import { analysisMessages } from "./messages/analysis.js";
import { archiveMessages } from "./messages/archive.js";
import { cohortMessages } from "./messages/cohort.js";
import { commandMessages } from "./messages/commands.js";
import { explanationMessages } from "./messages/explanations.js";
import { flagMessages } from "./messages/flags.js";
import { growthMessages } from "./messages/growth.js";
import { levelMessages } from "./messages/levels.js";
import { orderMessages } from "./messages/orders.js";
import { pageMessages } from "./messages/pages.js";
import { planningMessages } from "./messages/planning.js";
import { rateMessages } from "./messages/rates.js";
import { recordMessages } from "./messages/records.js";
import { referenceMessages } from "./messages/reference.js";
import { reportMessages } from "./messages/report.js";
import { seasonMessages } from "./messages/seasons.js";
import { seriesMessages } from "./messages/series.js";
import { signMessages } from "./messages/signs.js";
import { speciesMessages } from "./messages/species.js";
import { statsMessages } from "./messages/stats.js";
import type { Given, Sentence } from "./wording.js";

/**
 * The one catalogue of every message a user can read, by code. Each room keeps
 * its sentences in `core/messages/<room>.ts`; codes are unique across rooms
 * (a test checks) and tests match codes, never prose.
 */
export const sentences = {
  ...recordMessages,
  ...seriesMessages,
  ...signMessages,
  ...orderMessages,
  ...speciesMessages,
  ...statsMessages,
  ...rateMessages,
  ...growthMessages,
  ...cohortMessages,
  ...referenceMessages,
  ...flagMessages,
  ...levelMessages,
  ...seasonMessages,
  ...planningMessages,
  ...analysisMessages,
  ...archiveMessages,
  ...explanationMessages,
  ...reportMessages,
  ...pageMessages,
  ...commandMessages,
} satisfies Readonly<Record<string, Sentence>>;

/** Every code that has a sentence. */
export type NoticeCode = keyof typeof sentences;

/**
 * What the sentence of a code declares that it is given; of several codes, what
 * all of them need. Whether or not the sentence says it, a notice may name its animal.
 */
export type ParametersOf<C extends NoticeCode> = (
  C extends NoticeCode
    ? (needed: DeclaredBy<Parameters<(typeof sentences)[C]>>) => void
    : never
) extends (needed: infer All) => void
  ? All
  : never;

type DeclaredBy<Arguments> = Arguments extends [Given<infer P>] ? Readonly<P> & MayName : MayName;

interface MayName {
  readonly animal?: string;
}
