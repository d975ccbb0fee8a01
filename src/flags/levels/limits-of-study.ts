import { type Notice, notice } from "../../core/notice.js";
import type { StudySettings } from "../../series/animal-series.js";
import { defaultLevelLimits, type LevelLimits } from "./level-limits.js";

/**
 * The limits in force: the defaults with what the veterinarian set in study.json
 * ("watch_limits", names with underscores: `glucose_danger`, `temperature_margin_c`).
 * An entry that is none, or of another form than its default, is named and not used.
 *
 * @example limitsOfStudy({ watchLimits: { vomits: 3 } }).limits.vomits // 3
 */
export function limitsOfStudy(settings: Pick<StudySettings, "watchLimits">): {
  readonly limits: LevelLimits;
  readonly notices: readonly Notice[];
} {
  const set: Record<string, unknown> = {};
  const notices: Notice[] = [];
  const names = Object.keys(defaultLevelLimits) as (keyof LevelLimits)[];
  for (const [written, value] of Object.entries(settings.watchLimits ?? {})) {
    const name = names.find((each) => plain(each) === plain(written));
    const usual = name === undefined ? undefined : defaultLevelLimits[name];
    const fits =
      usual !== undefined && (value === null || Array.isArray(value) === Array.isArray(usual));
    if (name !== undefined && fits) set[name] = value;
    else
      notices.push(
        notice("level-limit-unknown", "problem", { name: written, known: names.map(withLines) }),
      );
  }
  return { limits: { ...defaultLevelLimits, ...set } as LevelLimits, notices };
}

/** Whether a name of study.json is the name of a limit. */
export function isLimit(written: string): boolean {
  return Object.keys(defaultLevelLimits).some((name) => plain(name) === plain(written));
}

const plain = (name: string) => name.replace(/_/g, "").toLowerCase();
/** "glucoseDanger" as "glucose_danger". */
const withLines = (name: string) => name.replace(/[A-Z]/g, (c) => `_${c.toLowerCase()}`);
