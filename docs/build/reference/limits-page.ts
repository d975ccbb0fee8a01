import { type SizeLimits, sizeLimits } from "../../../src/core/size-limits.js";
import { measuredRuleRates } from "../../../src/flags/budget/measured-rule-rates.js";
import { defaultLevelLimits } from "../../../src/flags/levels/level-limits.js";
import { defaultRuleLimits } from "../../../src/flags/rules/rule-limits.js";
import { defaultSignLimits } from "../../../src/rates/sign-limits.js";
import { defaultOrderBounds } from "../../../src/series/orders/order-bounds.js";
import { asIs, code, type DocPage, mdTable } from "../page.js";
import { membersOf } from "./declared.js";

/** Every limit with its usual value, from the code that judges by it. */
export function limitsPage(): DocPage {
  return {
    name: "limits",
    markdown: `# Limits

Limits outside which something is flagged, doubted or called a danger. **None is a published threshold for these species unless a species profile says so**: they are common practice or choices of this project, and the attending veterinarian sets them for your nursery in \`study.json\`. \`null\` switches one off. A sentence that rests on a limit says whose it is. Sentences that go on in the next row begin and end with dots.

> **Caution.** A limit decides when a page speaks, never whether an animal is well.

## Rules

Under \`"watch_limits"\` in \`study.json\`.

${tableOf("src/flags/rules/rule-limits.ts", "RuleLimits", defaultRuleLimits)}

## Signs

Under \`"watch_limits"\`. From memory of common practice with other young mammals.

${tableOf("src/rates/sign-limits.ts", "SignLimits", defaultSignLimits)}

## Levels

Under \`"watch_limits"\`.

${tableOf("src/flags/levels/level-limits.ts", "LevelLimits", defaultLevelLimits)}

## Orders

Under \`"order_bounds"\`.

${tableOf("src/records/study.ts", "OrderBounds", defaultOrderBounds)}

## How much fits

Sizes, times and memory. These are not settings; a study that needs more belongs into [an archive](archive.md).

${sizesTable()}

## How often the rules name a healthy animal

Measured in invented healthy facilities; the runs are in the [bench of the rules](validation.md).

${ratesTable()}`,
  };
}

function tableOf(path: string, name: string, values: object): string {
  const rows = membersOf(path, name).map((member) => [
    code(snake(member.name)),
    code(JSON.stringify(round((values as Readonly<Record<string, unknown>>)[member.name])) ?? ""),
    asIs(member.about),
  ]);
  return mdTable(["name", "usual value", "what it does"], rows);
}

/** Every limit of size, time and memory. */
function sizesTable(): string {
  const rows = membersOf("src/core/size-limits.ts", "SizeLimits").map(({ name, about }) => [
    code(name),
    sizeInWords(name as keyof SizeLimits),
    asIs(about),
  ]);
  return mdTable(["name", "at most", "of what, and what happens beyond"], rows);
}

/**
 * A limit with its unit, which its name ends in.
 *
 * @example sizeInWords("fileBytes") // "48 MB"
 */
export function sizeInWords(name: keyof SizeLimits): string {
  const value = sizeLimits[name];
  if (name.endsWith("Bytes"))
    return value < 2 ** 20 ? `${value / 2 ** 10} kB` : `${value / 2 ** 20} MB`;
  if (name.endsWith("Megabytes")) return `${value} MB`;
  if (name.endsWith("Seconds")) return `${value} s`;
  return value.toLocaleString("en");
}

/** As it is written in study.json. @example snake("noGainDays") // "no_gain_days" */
const snake = (name: string) => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

const round = (value: unknown) =>
  typeof value === "number" ? Number(value.toPrecision(4)) : value;

/** What each class of rules says of healthy animals, in 100 weeks, by how the pages are kept. */
function ratesTable(): string {
  const classes = ["list", "weighings", "danger", "practice"] as const;
  const rows = measuredRuleRates.worlds.map((world) => [
    asIs(world.pages),
    `${world.animals}`,
    `${world.animalWeeks}`,
    ...classes.map((each) => {
      const { per100Weeks, low, high } = world[each];
      return `${per100Weeks} (${low} to ${high})`;
    }),
  ]);
  const heads = [
    "pages",
    "animals",
    "animal-weeks",
    "named at all",
    "by weighings",
    "danger",
    "practice",
  ];
  return `${mdTable(heads, rows)}\n\nNamed so often in 100 weeks of healthy animals, with 95 % limits; seeds ${measuredRuleRates.seeds.join(", ")}.`;
}
