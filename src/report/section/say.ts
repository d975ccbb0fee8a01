import { noticeText } from "../../core/catalogue.js";
import { type NoticeParameter, notice } from "../../core/notice.js";
import { screenWording } from "../../units/format.js";

/**
 * A sentence of the catalogue with its numbers put in, times in the study's zone.
 *
 * @example say("hand-over-no-mass") // "No usable weighing."
 */
export function say(
  code: string,
  parameters: Readonly<Record<string, NoticeParameter>> = {},
  zone = "UTC",
): string {
  return noticeText(notice(code, "info", parameters), screenWording(zone));
}
