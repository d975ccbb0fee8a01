import { asWritten } from "../../core/as-written.js";
import { shortened } from "../../core/shortened.js";
import type { Sign } from "../../series/signs/sign.js";
import { unitWord } from "../../units/format-measured.js";
import { formatNumber } from "../../units/format-number.js";

/** What a sign was read as, in a few words; what it cannot be read as is said. */
export function signText(sign: Sign): string {
  const { state, measure, sure, count, amount, findings } = sign;
  if (state === "unclear") return ["could not be read: look", ...findings].join("; ");
  if (state === "not looked") return ["not looked", ...findings].join("; ");
  const parts: string[] = [];
  if (measure !== null) {
    const { low, high } = measure;
    const unit = measure.unit === null ? "" : unitWord(measure.unit);
    const range =
      low === high ? formatNumber(low) : `${formatNumber(low)} to ${formatNumber(high)}`;
    parts.push(`${range} ${unit}`.trim());
  }
  parts.push(...findings);
  if (state === "none" && measure === null)
    parts.unshift(isState.has(sign.kind) ? "nothing wrong seen" : "none");
  if (state === "present" && parts.length === 0 && !plain.has(sign.kind)) parts.push("seen");
  if (count !== null) parts.push(count === 1 ? "once" : `${count} times`);
  if (amount !== null) parts.push(`${formatNumber(amount.value)} ${amount.unit}`);
  return `${parts.join(", ")}${sure ? "" : parts.length === 0 ? "in doubt: ask" : " (in doubt: ask)"}`;
}

/**
 * A sign by its kind and what was read; one whose words speak for themselves
 * (a note, an examination) with these words, at most so many letters of them.
 *
 * @example signSaid(note) // "note “quiet, lies on its side”"
 */
export function signSaid(sign: Sign, most = Number.POSITIVE_INFINITY): string {
  const words = signText(sign);
  const own = asWritten(sign.written);
  if (words !== "") return `${sign.kind}: ${words}`;
  if (own === "") return sign.kind;
  return `${sign.kind} “${shortened(own, most)}”`;
}

const isState: ReadonlySet<string> = new Set(["behaviour", "suckle", "hydration"]);
/** Kinds whose words speak for themselves. */
const plain: ReadonlySet<string> = new Set([
  "medication",
  "fluids",
  "exam",
  "swim",
  "groom",
  "note",
]);
