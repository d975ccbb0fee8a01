import { notice } from "../../core/notice.js";
import { showsIllness } from "../../series/signs/shows-illness.js";
import { mayBePresent, type Sign } from "../../series/signs/sign.js";
import { profileOf } from "../../species/profile-of.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../../units/calendar.js";
import type { RivalExplanation } from "./explanation.js";
import { leadD, type SlowGainerCase } from "./slow-gainer-case.js";

/** Days with signs from which they are called likely. */
const clearDays = 2;
/** Came up by itself, without another sign, is judged as what was not kept ... */
const ownQuestion = new Set<Sign["kind"]>(["vomit", "regurgitation"]);

/** ... and on so many days it may be a sign of illness too, without more. */
const cameUpDays = 3;

/** Was something seen that an ill animal shows? A sign is no diagnosis. */
export function illnessSigns(c: SlowGainerCase): RivalExplanation {
  const id = { animal: c.animal.animalId };
  const { zone, feedingDayStartHour } = c.analysis.settings;
  const { from } = feedingDaySpan(addDays(c.from, -leadD), zone, feedingDayStartHour);
  const { to } = feedingDaySpan(c.to, zone, feedingDayStartHour);
  const { signs } = c.animal.series;
  const recent = signs.filter((s) => s.at >= from && s.at < to);
  const bare = { rival: "illness signs", speaksFor: [], speaksAgainst: [], ask: [] } as const;
  const range = profileOf(c.animal.species, c.analysis.settings.speciesOverrides).bodyTemperature
    ?.range;
  const margin = 0.2;
  const outside = (s: Sign) =>
    s.kind === "temperature" &&
    s.measure !== null &&
    range !== undefined &&
    (s.measure.low < range[0] - margin || s.measure.high > range[1] + margin);
  const alerted = new Set(c.animal.alerts.map((a) => a.at));
  const ill = recent.filter(
    (s) =>
      !ownQuestion.has(s.kind) &&
      (outside(s) ||
        (mayBePresent(s) && showsIllness(s)) ||
        (alerted.has(s.at) && s.kind !== "temperature" && mayBePresent(s))),
  );
  const day = (s: Sign) => feedingDayOf(s.at, zone, feedingDayStartHour);
  const days = new Set(ill.map(day)).size;
  const cameUp = recent.filter((s) => ownQuestion.has(s.kind) && mayBePresent(s));
  const upDays = new Set(cameUp.map(day)).size;
  if (days === 0 && upDays >= cameUpDays)
    return {
      ...bare,
      verdict: "possible",
      speaksFor: [
        notice("rival-ill-came-up", "caution", {
          ...id,
          days: upDays,
          n: cameUp.reduce((sum, s) => sum + (s.count ?? 1), 0),
          last: cameUp.at(-1)!.at,
        }),
      ],
      ask: [notice("rival-ill-ask", "caution", id)],
      weight: 0.3,
    };
  if (days === 0) {
    const taken = recent.filter((s) => s.kind === "temperature").length;
    if (recent.length === 0) {
      return {
        ...bare,
        verdict: "cannot be told",
        ask: [notice("rival-ill-not-written", "caution", { ...id, from: c.from })],
        weight: 0,
      };
    }
    return {
      ...bare,
      verdict: "speaks against",
      speaksAgainst: [
        notice("rival-ill-none", "info", { ...id, from: c.from, n: recent.length, taken }),
      ],
      weight: 0,
    };
  }
  const isSlow = c.deficit.slow === "slow" || c.deficit.slow === "loses";
  return {
    ...bare,
    verdict: days >= clearDays && isSlow ? "likely" : "possible",
    speaksFor: [
      notice("rival-ill", "problem", {
        ...id,
        days,
        n: ill.length,
        kinds: [...new Set(ill.map((s) => s.kind))],
        first: ill[0]!.at,
        last: ill.at(-1)!.at,
      }),
    ],
    ask: [notice("rival-ill-ask", "caution", id)],
    weight: Math.min(1, 0.4 + 0.15 * days),
  };
}
