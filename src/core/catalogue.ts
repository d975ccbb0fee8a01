import { analysisMessages } from "./messages/analysis.js";
import { cohortMessages } from "./messages/cohort.js";
import { flagMessages } from "./messages/flags.js";
import { growthMessages } from "./messages/growth.js";
import { orderMessages } from "./messages/orders.js";
import { planningMessages } from "./messages/planning.js";
import { rateMessages } from "./messages/rates.js";
import { recordMessages } from "./messages/records.js";
import { referenceMessages } from "./messages/reference.js";
import { reportMessages } from "./messages/report.js";
import { seasonMessages } from "./messages/seasons.js";
import { seriesMessages } from "./messages/series.js";
import { speciesMessages } from "./messages/species.js";
import { statsMessages } from "./messages/stats.js";
import type { Notice } from "./notice.js";
import { plainWording, type Sentence, type SentenceParameters, type Wording } from "./wording.js";

/**
 * The one catalogue of every message a user can read, by code. Each room keeps
 * its sentences in `core/messages/<room>.ts`; codes are unique across rooms
 * (a test checks) and tests match codes, never prose.
 */
export const catalogue: Readonly<Record<string, Sentence>> = {
  ...recordMessages,
  ...seriesMessages,
  ...orderMessages,
  ...speciesMessages,
  ...statsMessages,
  ...rateMessages,
  ...growthMessages,
  ...cohortMessages,
  ...referenceMessages,
  ...flagMessages,
  ...seasonMessages,
  ...planningMessages,
  ...analysisMessages,
  ...reportMessages,
};

/**
 * Turns a notice into its sentence.
 *
 * @example noticeText(notice("series-no-weighings", "problem", { animal: "P1" }))
 */
export function noticeText(n: Notice, wording: Wording = plainWording): string {
  const sentence = catalogue[n.code];
  if (sentence === undefined) return n.code;
  return sentence(readerOf(n, wording));
}

function readerOf(n: Notice, wording: Wording): SentenceParameters {
  const raw = (name: string) =>
    Object.hasOwn(n.parameters, name) ? n.parameters[name] : undefined;
  const asText = (value: unknown): string =>
    value === undefined || value === null
      ? "?"
      : Array.isArray(value)
        ? wording.list(value)
        : typeof value === "number"
          ? wording.number(value)
          : String(value);
  return {
    raw,
    text: (name) => asText(raw(name)),
    number: (name, digits) => {
      const value = raw(name);
      return typeof value === "number" ? wording.number(value, digits) : asText(value);
    },
    instant: (name) => {
      const value = raw(name);
      return typeof value === "number" ? wording.instant(value) : asText(value);
    },
    list: (name) => asText(raw(name)),
  };
}
