import { z } from "zod";
import { type Notice, notice } from "../core/notice.js";
import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";
import { type UnitName, unitNamed } from "../units/quantity.js";
import { isZone } from "../units/zone.js";
import { tableColumns, tableNames } from "./columns.js";
import { depthOf } from "./json-depth.js";
import { layoutSchema } from "./layouts/layout-schema.js";
import type { LayoutStep } from "./layouts/layout-step.js";
import type { OrderBounds, StudySettings, TableName } from "./study.js";
import { whatIsWrong } from "./what-is-wrong.js";

/** Everything study.json says: the settings of the study and how its files are to be read. */
export interface StudyFile {
  readonly settings: StudySettings;
  /** Unit by "table.column" or by dimension ("mass"), as the user wrote it. */
  readonly units: ReadonlyMap<string, UnitName>;
  /** Their header by "table.column"; several where files differ. */
  readonly headers: ReadonlyMap<string, readonly string[]>;
  /** Decimal mark by "table" or "table.column", where it differs from the study's. */
  readonly decimals: ReadonlyMap<string, "point" | "comma">;
  /** Which file or sheet holds which table, where the name does not say so. */
  readonly sources: readonly { readonly table: TableName; readonly source: string }[];
  /** Names of prior files in the study's folder. */
  readonly priors: readonly string[];
  /** How a file or sheet is laid out, by its name, where it is no plain table. */
  readonly layouts: ReadonlyMap<string, readonly LayoutStep[]>;
  /** Names that stand where ids belong, and whose they are: by name, lower case. */
  readonly alsoCalled: ReadonlyMap<string, string>;
  readonly notices: readonly Notice[];
}

const text = z.string().trim().min(1);
const styles = ["year-month-day", "day-month-year", "month-day-year"] as const;

const bound = z.number().positive().nullable().optional();

const schema = z.looseObject({
  title: text.default("Untitled study"),
  species: z.union([text.transform((one) => [one]), z.array(text)]).default([]),
  zone: text.refine(isZone, "no IANA time zone of this name is known"),
  feeding_day_start_hour: z.number().int().min(0).max(23).default(0),
  blank_tare_is_zero: z.boolean().default(false),
  blank_refusal_is_none: z.boolean().default(false),
  date_style: z.enum(styles).default("year-month-day"),
  decimal: z.enum(["point", "comma"]).default("point"),
  scale_error_g: z.record(z.string(), z.number().positive()).default({}),
  species_overrides: z.record(z.string(), z.unknown()).default({}),
  mass_bands: z
    .record(
      z.string(),
      z.strictObject({
        set_by: text.optional(),
        band: z
          .array(
            z
              .strictObject({
                on: z
                  .string()
                  .regex(
                    /^(0[1-9]|1[0-2])-(0[1-9]|1\d|2[0-8])$/,
                    'a day of the year as "03-01", up to 28',
                  ),
                low_g: z.number().positive(),
                high_g: z.number().positive(),
              })
              .refine((p) => p.low_g < p.high_g, "low_g must be below high_g"),
          )
          .min(1),
      }),
    )
    .default({}),
  orders_by_diet: z.boolean().default(false),
  order_bounds: z
    .strictObject({
      feed_pct_of_mass: bound,
      feed_pct_of_usual: bound,
      day_change_pct: bound,
      newcomer_kcal_pct: bound,
      diet_energy_pct: bound,
      mass_growth_pct: bound,
    })
    .default({}),
  watch_limits: z
    .record(
      z.string(),
      z.union([z.number().positive(), z.tuple([z.number(), z.number()]), z.null()]),
    )
    .default({}),
  standing_instructions: z.record(z.string(), text).default({}),
  call_whom: text.optional(),
  floor_g: z.record(z.string(), z.number().positive()).default({}),
  units: z.record(z.string(), z.union([z.string(), z.record(z.string(), z.string())])).default({}),
  columns: z
    .record(z.string(), z.record(z.string(), z.union([z.string(), z.array(z.string())])))
    .default({}),
  decimals: z.record(z.string(), z.enum(["point", "comma"])).default({}),
  files: z.record(z.string(), z.union([z.string(), z.array(z.string())])).default({}),
  priors: z.array(text).default([]),
  layouts: z.record(z.string(), z.array(layoutSchema)).default({}),
  also_called: z.record(z.string(), z.array(text)).default({}),
});

/** Every name that study.json may hold. */
export const settingNames: readonly string[] = Object.keys(schema.shape);
const known = new Set(settingNames);
/** Keys that other files of the folder or people keep in study.json. */
const tolerated =
  /^(\$schema|description|about|mapping_notes|comment|comments|notes|licen[cs]e|name)$/;

/**
 * Reads study.json.
 *
 * @throws UsageError when it is no JSON or a setting is wrong: the study cannot
 *   be read without knowing its time zone.
 * @example readSettings('{ "title": "2025", "zone": "Europe/Berlin" }').settings.zone // "Europe/Berlin"
 */
export function readSettings(json: string): StudyFile {
  let raw: unknown;
  if (depthOf(json) > sizeLimits.jsonLevels)
    throw wrong(
      "a JSON object",
      `it is nested deeper than ${sizeLimits.jsonLevels} levels`,
      "Check its brackets.",
    );
  try {
    raw = JSON.parse(json, (key, value: unknown) => (key === "__proto__" ? undefined : value));
  } catch (error) {
    throw wrong(
      "a JSON object",
      `the text cannot be read as JSON (${(error as Error).message})`,
      "Check commas, quotes and brackets.",
    );
  }
  const read = schema.safeParse(raw);
  if (!read.success) {
    const issue = read.error.issues[0]!;
    const path = issue.path.map(String).join(".");
    const came = path === "" ? raw : valueAt(raw, issue.path.map(String));
    throw wrong(
      path === "" ? "a JSON object" : `a usable "${path}"`,
      came === undefined ? `"${path}" is missing` : `${show(came)} came (${whatIsWrong(issue)})`,
      path === "zone"
        ? 'Add the study\'s time zone, e.g. "zone": "America/Los_Angeles".'
        : "Correct it; the README lists what study.json may hold.",
    );
  }
  const file = read.data;
  const notices: Notice[] = Object.keys(file)
    .filter((key) => !known.has(key) && !tolerated.test(key))
    .map((key) => notice("records-unknown-setting", "caution", { setting: key }, place));
  if (typeof raw === "object" && raw !== null && !("feeding_day_start_hour" in raw)) {
    notices.push(notice("records-feeding-day-from-midnight", "info", {}, place));
  }
  return {
    settings: {
      title: file.title,
      species: file.species,
      zone: file.zone,
      feedingDayStartHour: file.feeding_day_start_hour,
      blankTareIsZero: file.blank_tare_is_zero,
      blankRefusalIsNone: file.blank_refusal_is_none,
      dateStyle: file.date_style,
      decimal: file.decimal,
      scaleErrorG: { ...file.scale_error_g },
      speciesOverrides: { ...file.species_overrides },
      ...signUnits(file.units),
      ...signDecimal(file.decimals),
      ...massBands(file.mass_bands),
      ordersByDiet: file.orders_by_diet,
      orderBounds: boundsOf(file.order_bounds),
      ...(isEmpty(file.watch_limits) ? {} : { watchLimits: file.watch_limits }),
      ...(isEmpty(file.standing_instructions)
        ? {}
        : { standingInstructions: file.standing_instructions }),
      ...(file.call_whom === undefined ? {} : { callWhom: file.call_whom }),
      ...(isEmpty(file.floor_g) ? {} : { floorG: file.floor_g }),
    },
    units: readUnits(file.units, notices),
    headers: readHeaders(file.columns, notices),
    decimals: new Map(Object.entries(file.decimals)),
    sources: readSources(file.files, notices),
    priors: file.priors,
    layouts: new Map(Object.entries(file.layouts)),
    alsoCalled: new Map(
      Object.entries(file.also_called).flatMap(([id, names]) =>
        names.map((name) => [name.toLowerCase(), id] as const),
      ),
    ),
    notices,
  };
}

const place = { file: "study.json" } as const;

function massBands(
  written: z.infer<typeof schema>["mass_bands"],
): Pick<StudySettings, "massBands"> {
  const entries = Object.entries(written);
  if (entries.length === 0) return {};
  return {
    massBands: Object.fromEntries(
      entries.map(([id, { set_by, band }]) => [
        id,
        {
          setBy: set_by ?? null,
          points: band.map((p) => ({ on: p.on, lowG: p.low_g, highG: p.high_g })),
        },
      ]),
    ),
  };
}

const isEmpty = (record: object) => Object.keys(record).length === 0;

/** "feed_pct_of_mass" as feedPctOfMass; what is not written keeps its default. */
function boundsOf(written: Readonly<Record<string, number | null | undefined>>) {
  const camel = (key: string) => key.replace(/_([a-z])/g, (_, c: string) => c.toUpperCase());
  const set = Object.entries(written).filter(([, value]) => value !== undefined);
  return Object.fromEntries(set.map(([key, value]) => [camel(key), value])) as Partial<OrderBounds>;
}

function readUnits(
  written: Readonly<Record<string, string | Readonly<Record<string, string>>>>,
  notices: Notice[],
): Map<string, UnitName> {
  const found = new Map<string, UnitName>();
  const add = (key: string, spelling: string) => {
    const unit = unitNamed(spelling);
    if (unit !== null) found.set(key, unit);
    // Lengths are kept as they are written; their unit needs no conversion.
    else if (!/^(cm|mm|m|in|inch|mg\/dl|mmol\/l)$/i.test(spelling))
      notices.push(
        notice("records-setting-unit", "caution", { setting: key, unit: spelling }, place),
      );
  };
  for (const [key, value] of Object.entries(written)) {
    if (typeof value === "string") add(key, value);
    else for (const [column, unit] of Object.entries(value)) add(`${key}.${column}`, unit);
  }
  return found;
}

/** Units of bare numbers among the observations; how they are read is the signs' matter. */
/** The mark in numbers of observations, where their table has one of its own. */
function signDecimal(
  decimals: Readonly<Record<string, "point" | "comma">>,
): Pick<StudySettings, "signDecimal"> {
  const own = decimals["observations.value"] ?? decimals["observations"];
  return own === undefined ? {} : { signDecimal: own };
}

function signUnits(
  written: Readonly<Record<string, string | Readonly<Record<string, string>>>>,
): Pick<StudySettings, "signUnits"> | object {
  const kinds = Object.entries(written).filter(
    ([key, unit]) => ["temperature", "glucose", "length"].includes(key) && typeof unit === "string",
  );
  return kinds.length === 0 ? {} : { signUnits: Object.fromEntries(kinds) };
}

function readHeaders(
  written: Readonly<Record<string, Readonly<Record<string, string | readonly string[]>>>>,
  notices: Notice[],
): Map<string, readonly string[]> {
  const found = new Map<string, readonly string[]>();
  for (const [table, columns] of Object.entries(written)) {
    for (const [ours, theirs] of Object.entries(columns)) {
      const exists = isTable(table) && tableColumns[table].some((column) => column.name === ours);
      if (exists) found.set(`${table}.${ours}`, typeof theirs === "string" ? [theirs] : theirs);
      else
        notices.push(notice("records-mapping-unknown", "caution", { table, column: ours }, place));
    }
  }
  return found;
}

function readSources(
  written: Readonly<Record<string, string | readonly string[]>>,
  notices: Notice[],
): { table: TableName; source: string }[] {
  return Object.entries(written).flatMap(([table, sources]) => {
    if (!isTable(table)) {
      notices.push(notice("records-unknown-table", "caution", { table }, place));
      return [];
    }
    return (typeof sources === "string" ? [sources] : sources).map((source) => ({
      table,
      source,
    }));
  });
}

/** Whether a name is one of our tables. */
export function isTable(name: string): name is TableName {
  return (tableNames as readonly string[]).includes(name);
}

function valueAt(raw: unknown, path: readonly string[]): unknown {
  let value = raw;
  for (const step of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step))
      return undefined;
    value = (value as Record<string, unknown>)[step];
  }
  return value;
}

function show(value: unknown): string {
  if (typeof value === "number" && !Number.isFinite(value)) return "a number beyond all bounds";
  const json = JSON.stringify(value) ?? String(value);
  return shortened(json, sizeLimits.repeatedLetters);
}

function wrong(needed: string, came: string, todo: string): UsageError {
  return new UsageError({ needed, came, where: "study.json", todo });
}
