/**
 * Keys that were renamed after the goldens were made, today's name first. A
 * result is told with the older names before it is compared, so that a pure
 * rename leaves every digest as it was. A key is renamed where it stands under
 * the named parent only, `*` meaning anywhere.
 */
export const renamedKeys: readonly {
  readonly under: string;
  readonly today: string;
  readonly before: string;
}[] = [
  { under: "evidence", today: "hours", before: "hours_h" },
  // Notices of what would imitate a slow gain carry the numbers behind the answer.
  { under: "parameters", today: "notTold", before: "not_told" },
  { under: "parameters", today: "dampOrWet", before: "damp_or_wet" },
  { under: "parameters", today: "afterMeal", before: "after_meal" },
  { under: "parameters", today: "hoursSinceFeedEarly", before: "hours_since_feed_early" },
  { under: "parameters", today: "hoursSinceFeedLate", before: "hours_since_feed_late" },
  { under: "parameters", today: "usualFeedG", before: "usual_feed_g" },
  { under: "*", today: "logLikelihood", before: "logLik" },
  { under: "diagnostics", today: "df", before: "degreesOfFreedom" },
];

/** Values that were renamed alike: names of flags of what was eaten. */
export const renamedValues: ReadonlyMap<string, string> = new Map([
  ["eaten below plan", "intake below plan"],
  ["eaten above plan", "intake above plan"],
  ["eaten below habit", "intake below habit"],
  ["eaten above limit", "intake above limit"],
  ["eaten without gain", "intake without gain"],
]);

type Json = Readonly<Record<string, unknown>>;

/**
 * Objects whose form changed, not only their keys: how today's is told as it was
 * when the goldens were made, by the key under which it stands. Every number of
 * today's form is in the older one.
 */
export const reshaped: Readonly<Record<string, (today: Json) => Json>> = {
  evidence: (today) => scalesByName(snakeKeys(unitInName(today))),
};

/** Names in evidence were written with underscores: `gainPctPerD` was `gain_pct_per_d`. */
function snakeKeys(today: Json): Json {
  const snake = (key: string) => key.replace(/[A-Z]|\d+/g, (m) => `_${m.toLowerCase()}`);
  return Object.fromEntries(Object.entries(today).map(([key, x]) => [snake(key), x]));
}

/** Intake beside a plan stood under its unit: `eaten_g`, `planned_kcal`. */
function unitInName(today: Json): Json {
  if (today["plannedFeeds"] === undefined) return today;
  const { eaten, planned, unit, ...rest } = today;
  return { ...rest, [`eaten_${unit}`]: eaten, [`planned_${unit}`]: planned };
}

/** The checks of each scale stood under its name: `checks_s1`, `failed_s1`. */
function scalesByName(today: Json): Json {
  const { scales, ...rest } = today;
  if (!Array.isArray(scales)) return today;
  return Object.fromEntries([
    ...Object.entries(rest),
    ...scales.flatMap((s) => [
      [`checks_${s.scale}`, s.checks],
      [`failed_${s.scale}`, s.failed],
    ]),
  ]);
}
