import { noticeText } from "../../core/catalogue.js";
import { type Exactly, notice, type PlainCode } from "../../core/notice.js";
import type { NoticeCode, ParametersOf } from "../../core/sentences.js";
import { screenWording } from "../../units/format.js";

/**
 * A sentence of the catalogue with its numbers put in, times in the study's zone.
 *
 * @example say("hand-over-no-mass") // "No usable weighing."
 */
export function say(code: PlainCode): string;
export function say<C extends NoticeCode, P extends ParametersOf<C>>(
  code: C,
  parameters: Exactly<C, P>,
  zone?: string,
): string;
export function say<C extends NoticeCode, P extends ParametersOf<C>>(
  code: C,
  parameters = {} as Exactly<C, P>,
  zone = "UTC",
): string {
  return noticeText(notice<C, P>(code, "info", parameters), screenWording(zone));
}
