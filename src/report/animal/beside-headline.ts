import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import { reasonWords } from "../day/reason-words.js";

/** What the headline of an animal's page says of its level, and what stands beside that. */
export interface BesideHeadline {
  /** The reason that nobody has answered, the gravest first; null where nothing stands against it. */
  readonly reason: string | null;
  /** Every other reason, the veterinarian's standing instructions, and whom to call. */
  readonly others: readonly string[];
  /** True where these may not wait until a picture has been looked at. */
  readonly first: boolean;
}

/**
 * The words of an animal's level as its page has them: what is not said by the
 * headline stands right under it in danger, else under the picture.
 *
 * @param says kinds of reasons that the headline itself is about; default: the gravest open one.
 */
export function besideHeadline(
  animal: AnimalAnalysis,
  level: AnimalLevel,
  zone: string,
  says?: ReadonlySet<string>,
): BesideHeadline {
  const { reasons, instructions } = reasonWords(animal, level, zone);
  const open = level.reasons.findIndex((r) => r.answered === null);
  const at = Math.max(0, open);
  const said = (i: number) =>
    says === undefined || level.level === "danger" ? i === at : says.has(level.reasons[i]!.what);
  return {
    reason: reasons[at] ?? null,
    others: [...new Set([...reasons.filter((_, i) => !said(i)), ...instructions])],
    first: level.level === "danger",
  };
}
