import { noticeText } from "../core/catalogue.js";
import type { StudySeries } from "../series/animal-series.js";
import { screenWording } from "../units/format.js";

/** What became of each decision, for the screen: those that met no row first. */
export function decisionSentences(series: StudySeries): string[] {
  const wording = screenWording(series.settings.zone);
  const missed = series.notices.filter((n) => n.level !== "info");
  const applied = series.notices.filter((n) => n.level === "info");
  return [...missed, ...applied].map((n) => noticeText(n, wording));
}
