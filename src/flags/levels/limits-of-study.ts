import { type Notice, notice } from "../../core/notice.js";
import { hasForm, limitsInForce, plainName } from "../../rates/limits-in-force.js";
import type { StudySettings } from "../../series/animal-series.js";
import { orderBoundsOf } from "../../series/orders/order-bounds.js";
import { defaultLevelLimits, type LevelLimits } from "./level-limits.js";

/**
 * The limits in force. An entry of study.json that is none, or of another form than its
 * default, is named and not used.
 *
 * @example limitsOfStudy({ watchLimits: { vomits: 3 } }).limits.vomits // 3
 */
export function limitsOfStudy(settings: Pick<StudySettings, "watchLimits" | "orderBounds">): {
  readonly limits: LevelLimits;
  readonly notices: readonly Notice[];
} {
  const names = Object.keys(defaultLevelLimits) as (keyof LevelLimits)[];
  const unknown = Object.entries(settings.watchLimits ?? {}).filter(([written, value]) => {
    const name = names.find((each) => plainName(each) === plainName(written));
    return name === undefined || !hasForm(value, defaultLevelLimits[name]);
  });
  return {
    limits: {
      ...limitsInForce(defaultLevelLimits, settings),
      feedPctOfMass: orderBoundsOf(settings).feedPctOfMass,
    },
    notices: unknown.map(([name]) =>
      notice("level-limit-unknown", "problem", { name, known: names.map(withLines) }),
    ),
  };
}

/** Whether a name of study.json is the name of a limit. */
export function isLimit(written: string): boolean {
  return Object.keys(defaultLevelLimits).some((name) => plainName(name) === plainName(written));
}

/** "glucoseDanger" as "glucose_danger". */
const withLines = (name: string) => name.replace(/[A-Z]/g, (c) => `_${c.toLowerCase()}`);
