import type { UnitName } from "../units/quantity.js";
import type { TableName } from "./study.js";

/**
 * The record tables of a study as data: our column names, what stands in each,
 * and what is impossible in it. Readers, checks, templates and the data
 * dictionary are all made from this one list.
 */
export interface Column {
  /** Our name, as in the header. */
  readonly name: string;
  /** Its key in the accepted row. */
  readonly key: string;
  readonly holds:
    | "id"
    | "text"
    | "number"
    | "instant"
    | "day start"
    | "date"
    | "rough date"
    | "choice"
    | "ordered amount"
    | "ordered feeds"
    | "ordered times"
    | "ordered days"
    | "ordered end"
    | "value";
  /**
   * Needed: a row in which this cell is blank or cannot be read is set aside.
   * Any other cell that cannot be read is lost alone, with a notice.
   */
  readonly required?: boolean;
  /** Needed where anything stands in it: half a decision is none. */
  readonly neededWhenWritten?: boolean;
  /** "none" and "nothing" in words are zero here. */
  readonly noneIsZero?: boolean;
  /** Unit in which the accepted row keeps a number. */
  readonly unit?: UnitName | "%" | "h" | "kcal/g" | "g/mL" | "1/d";
  /** Impossible outside; `above` excludes the value itself. */
  readonly min?: number;
  readonly above?: number;
  readonly max?: number;
  readonly choices?: readonly string[];
  /** Other ways of writing a choice. */
  readonly alsoWritten?: Readonly<Record<string, string>>;
  /** What a blank choice means. */
  readonly blankIs?: string;
  readonly about: string;
}

const percent = (name: string, key: string, about: string): Column => ({
  name,
  key,
  holds: "number",
  unit: "%",
  min: 0,
  max: 100,
  about,
});

const composition: readonly Column[] = [
  percent("water_pct", "waterPct", "water, as fed"),
  percent("protein_pct", "proteinPct", "protein, as fed"),
  percent("fat_pct", "fatPct", "fat, as fed"),
  percent("carbohydrate_pct", "carbohydratePct", "carbohydrate, as fed"),
  percent("fibre_pct", "fibrePct", "fibre, as fed"),
  percent("ash_pct", "ashPct", "ash, as fed"),
  {
    name: "energy_kcal_per_g",
    key: "energyKcalPerG",
    holds: "number",
    unit: "kcal/g",
    min: 0,
    max: 9.5,
    about: "metabolisable energy as fed; pure fat has about 9",
  },
];

const animalId: Column = {
  name: "animal_id",
  key: "animalId",
  holds: "id",
  required: true,
  about: "the animal, as named in the table of animals",
};
const optionalAnimalId: Column = { ...animalId, required: false };
const groupId: Column = {
  name: "group_id",
  key: "groupId",
  holds: "id",
  about: "a group, instead of one animal",
};
const at: Column = {
  name: "at",
  key: "at",
  holds: "instant",
  required: true,
  about: "local date and time, e.g. 2025-05-02 06:10",
};
const notes: Column = { name: "notes", key: "notes", holds: "text", about: "anything" };
const from: Column = {
  name: "from",
  key: "from",
  holds: "day start",
  required: true,
  about: "local date and time it begins",
};
const to: Column = {
  name: "to",
  key: "to",
  holds: "day start",
  about: "local date and time it ends; blank: until replaced",
};
const mass = (name: string, key: string, more: Partial<Column> = {}): Column => ({
  name,
  key,
  holds: "number",
  unit: "g",
  min: 0,
  max: 5_000_000,
  about: "mass",
  ...more,
});
const ordered = (name: string, key: string, unit: "g" | "mL", about: string): Column => ({
  name,
  key,
  holds: "ordered amount",
  unit,
  about,
});
const dietId: Column = { name: "diet_id", key: "dietId", holds: "id", about: "the diet" };
const useBy: Column = {
  name: "use_by_h",
  key: "useByH",
  holds: "number",
  unit: "h",
  above: 0,
  max: 100_000,
  about: "hours from making to discarding",
};

/** Other names of what happens to several animals at once. */
const otherEventNames: Readonly<Record<string, string>> = {
  "power cut": "outage",
  "power outage": "outage",
  "power failure": "outage",
  "no power": "outage",
  "hot weather": "heat",
  "heat wave": "heat",
  heatwave: "heat",
  hot: "heat",
  "warm water": "heat",
  "cold water": "cold",
  "cold snap": "cold",
  "cold weather": "cold",
  "change of milk": "milk change",
  "new milk": "milk change",
  "change of formula": "milk change",
  "formula change": "milk change",
  "new formula": "milk change",
  moved: "move",
  "change of place": "move",
  illness: "illness in group",
  outbreak: "illness in group",
  "change of feeder": "staff",
  "new feeder": "staff",
  "feeder change": "staff",
  "staff change": "staff",
  "new staff": "staff",
};

/** Other names of a kind of observation. */
const otherKindNames: Readonly<Record<string, string>> = {
  temp: "temperature",
  t: "temperature",
  "body temperature": "temperature",
  "body temp": "temperature",
  "rectal temperature": "temperature",
  "rectal temp": "temperature",
  "standard length": "length",
  bcs: "condition score",
  "body condition": "condition score",
  "body condition score": "condition score",
  condition: "condition score",
  bg: "glucose",
  "blood glucose": "glucose",
  "blood sugar": "glucose",
  sugar: "glucose",
  pee: "urine",
  urination: "urine",
  stools: "stool",
  faeces: "stool",
  feces: "stool",
  poop: "stool",
  bm: "stool",
  defecation: "stool",
  vomiting: "vomit",
  vomited: "vomit",
  emesis: "vomit",
  regurg: "regurgitation",
  regurgitated: "regurgitation",
  bloating: "bloat",
  bloated: "bloat",
  bleeding: "blood",
  seizure: "convulsion",
  seizures: "convulsion",
  convulsions: "convulsion",
  fit: "convulsion",
  behavior: "behaviour",
  attitude: "behaviour",
  demeanour: "behaviour",
  demeanor: "behaviour",
  suckling: "suckle",
  suck: "suckle",
  "suckle reflex": "suckle",
  dehydration: "hydration",
  meds: "medication",
  medicine: "medication",
  drug: "medication",
  treatment: "medication",
  fluid: "fluids",
  examination: "exam",
  notes: "note",
  comment: "note",
};

/** Tables of what people decided or noted about the records, not records themselves. */
type BesideRecords = "decisions" | "acknowledgements" | "answers";

const observationKinds = [
  "temperature",
  "length",
  "girth",
  "condition score",
  "glucose",
  "urine",
  "stool",
  "vomit",
  "regurgitation",
  "bloat",
  "blood",
  "convulsion",
  "behaviour",
  "suckle",
  "hydration",
  "medication",
  "fluids",
  "exam",
  "swim",
  "groom",
  "milestone",
  "note",
] as const;

const recordTables: Readonly<Record<Exclude<TableName, BesideRecords>, readonly Column[]>> = {
  animals: [
    { ...animalId, about: "a short name that no other animal has" },
    { name: "name", key: "name", holds: "text", about: "the name in daily use" },
    { name: "species", key: "species", holds: "text", about: "species" },
    {
      name: "sex",
      key: "sex",
      holds: "choice",
      choices: ["female", "male", "unknown"],
      alsoWritten: { f: "female", m: "male", u: "unknown", "?": "unknown" },
      blankIs: "unknown",
      about: "sex",
    },
    {
      name: "birth_date_earliest",
      key: "birthDateEarliest",
      holds: "rough date",
      about: "first day on which it can have been born; a rough date gives both ends",
    },
    {
      name: "birth_date_latest",
      key: "birthDateLatest",
      holds: "rough date",
      about: "last day on which it can have been born",
    },
    {
      name: "birth_date_basis",
      key: "birthDateBasis",
      holds: "choice",
      choices: ["observed", "teeth", "pelage", "umbilicus", "mass", "unknown"],
      blankIs: "unknown",
      about: "how the birth date is known",
    },
    { name: "admitted_at", key: "admittedAt", holds: "instant", about: "date and time of arrival" },
    { name: "season", key: "season", holds: "text", about: "season it is counted with" },
    {
      name: "outcome",
      key: "outcome",
      holds: "choice",
      choices: ["in care", "released", "transferred", "long-term care", "died", "euthanised"],
      alsoWritten: { euthanized: "euthanised", "long term care": "long-term care" },
      about: "how its stay ended",
    },
    { name: "outcome_reason", key: "outcomeReason", holds: "text", about: "why" },
    { name: "outcome_date", key: "outcomeDate", holds: "date", about: "day of the outcome" },
    notes,
  ],
  weighings: [
    animalId,
    at,
    mass("mass_g", "massG", {
      required: true,
      above: 0,
      about: "scale reading, tare still on",
    }),
    mass("tare_g", "tareG", {
      noneIsZero: true,
      about: "bucket, towel or person, to be taken off",
    }),
    { name: "scale_id", key: "scaleId", holds: "id", about: "which scale" },
    {
      name: "method",
      key: "method",
      holds: "choice",
      choices: ["carried", "bucket", "platform", "voluntary"],
      about: "how it was weighed",
    },
    {
      name: "coat",
      key: "coat",
      holds: "choice",
      choices: ["dry", "damp", "wet"],
      about: "state of the coat",
    },
    {
      name: "meal",
      key: "meal",
      holds: "choice",
      choices: ["before", "after", "unknown"],
      blankIs: "unknown",
      about: "before or after a feed",
    },
    notes,
  ],
  scale_checks: [
    { name: "scale_id", key: "scaleId", holds: "id", required: true, about: "which scale" },
    at,
    mass("known_g", "knownG", { required: true, about: "the known weight put on" }),
    mass("reading_g", "readingG", { required: true, about: "what the scale showed" }),
  ],
  feeds: [
    optionalAnimalId,
    groupId,
    at,
    dietId,
    { name: "batch_id", key: "batchId", holds: "id", about: "the batch of formula" },
    mass("offered_g", "offeredG", { required: true, about: "amount offered" }),
    mass("refused_g", "refusedG", {
      noneIsZero: true,
      about: "amount left over; blank: unknown",
    }),
    {
      name: "route",
      key: "route",
      holds: "choice",
      choices: ["bottle", "syringe", "tube", "hand", "free"],
      about: "how it was fed",
    },
    notes,
  ],
  plans: [
    animalId,
    from,
    {
      ...to,
      holds: "ordered end",
      about:
        "local date and time it ends, a date with its whole feeding day; blank: until replaced",
    },
    { ...dietId, about: "the diet; NPO or nil by mouth: nothing by mouth" },
    ordered(
      "g_per_feed",
      "perFeed",
      "g",
      "amount of each feed; another unit may stand in the cell",
    ),
    ordered("ml_per_feed", "mlPerFeed", "mL", "amount of each feed where it is ordered by volume"),
    ordered(
      "g_per_day",
      "perDay",
      "g",
      "amount of the whole day where no feed is ordered by itself",
    ),
    {
      name: "feeds_per_day",
      key: "feedsPerDay",
      holds: "ordered feeds",
      unit: "1/d",
      about: "how many feeds a day; feed times win over it",
    },
    {
      name: "feed_times",
      key: "feedTimes",
      holds: "ordered times",
      about: "local clock times, e.g. 06:00 09:00 12:00",
    },
    {
      name: "days",
      key: "days",
      holds: "ordered days",
      about: "days of the week, or every other day; blank: every day",
    },
    mass("target_mass_g", "targetMassG", { above: 0, about: "body mass aimed at" }),
    { name: "ordered_by", key: "orderedBy", holds: "text", about: "who ordered it" },
    { ...notes, about: "anything else that is ordered; printed word for word" },
  ],
  diets: [
    { ...dietId, required: true, about: "a short name that no other diet has" },
    { name: "name", key: "name", holds: "text", about: "the name in daily use" },
    {
      name: "kind",
      key: "kind",
      holds: "choice",
      required: true,
      choices: ["formula", "solid", "supplement"],
      alsoWritten: { milk: "formula", solids: "solid" },
      about: "what it counts as",
    },
    ...composition,
    {
      name: "density_g_per_ml",
      key: "densityGPerMl",
      holds: "number",
      unit: "g/mL",
      above: 0,
      max: 20,
      about: "mass of one millilitre",
    },
    useBy,
  ],
  batches: [
    { name: "batch_id", key: "batchId", holds: "id", required: true, about: "the batch" },
    { ...dietId, required: true },
    { name: "made_at", key: "madeAt", holds: "instant", required: true, about: "when it was made" },
    mass("mass_g", "massG", { about: "amount made" }),
    useBy,
    ...composition,
    notes,
  ],
  ingredients: [
    { name: "batch_id", key: "batchId", holds: "id", required: true, about: "the batch" },
    { ...dietId, required: true, about: "what went in" },
    mass("mass_g", "massG", { required: true, about: "how much of it" }),
  ],
  housing: [
    optionalAnimalId,
    groupId,
    from,
    to,
    { name: "place", key: "place", holds: "text", required: true, about: "pool, room or pen" },
  ],
  observations: [
    animalId,
    at,
    {
      name: "kind",
      key: "kind",
      holds: "choice",
      required: true,
      choices: observationKinds,
      alsoWritten: otherKindNames,
      about: "what was observed",
    },
    { name: "value", key: "value", holds: "value", about: "number or words" },
    { name: "unit", key: "unit", holds: "text", about: "unit of the number" },
    notes,
  ],
  events: [
    { ...at, holds: "day start" },
    { ...to, about: "local date and time it ended" },
    {
      name: "scope",
      key: "scope",
      holds: "choice",
      required: true,
      choices: ["study", "season", "place", "animal"],
      alsoWritten: {
        all: "study",
        everyone: "study",
        "all animals": "study",
        nursery: "study",
        pool: "place",
        pen: "place",
        room: "place",
      },
      about: "whom it concerns",
    },
    {
      name: "kind",
      key: "kind",
      holds: "choice",
      required: true,
      choices: [
        "protocol change",
        "outage",
        "heat",
        "cold",
        "milk change",
        "move",
        "illness in group",
        "staff",
      ],
      alsoWritten: otherEventNames,
      about: "what happened",
    },
    notes,
  ],
};

/**
 * What a person decided about doubted rows; kept beside the tables as decisions.csv.
 * The row is named by one of mass_g (a weighing), offered_g (a feed) and kind (an observation).
 */
const decisions: readonly Column[] = [
  { ...animalId, about: "the animal, as written in the row decided about" },
  { ...at, about: "date and time, as written in the row decided about" },
  mass("mass_g", "massG", {
    above: 0,
    about: "for a weighing: the reading, as written in the row decided about",
  }),
  {
    name: "decision",
    key: "decision",
    holds: "choice",
    required: true,
    choices: ["correct", "keep", "leave out"],
    alsoWritten: {
      corrected: "correct",
      correction: "correct",
      change: "correct",
      kept: "keep",
      accept: "keep",
      accepted: "keep",
      confirm: "keep",
      confirmed: "keep",
      "left out": "leave out",
      reject: "leave out",
      rejected: "leave out",
      discard: "leave out",
      discarded: "leave out",
      delete: "leave out",
      remove: "leave out",
      ignore: "leave out",
    },
    about: "correct it with the new values, keep it as it is, or leave it out",
  },
  {
    ...optionalAnimalId,
    name: "new_animal_id",
    key: "newAnimalId",
    neededWhenWritten: true,
    about: "the right animal",
  },
  {
    ...at,
    name: "new_at",
    key: "newAt",
    required: false,
    neededWhenWritten: true,
    about: "the right date and time",
  },
  mass("new_mass_g", "newMassG", {
    above: 0,
    neededWhenWritten: true,
    about: "the right reading, tare still on",
  }),
  mass("new_tare_g", "newTareG", { neededWhenWritten: true, about: "the right tare" }),
  { name: "decided_by", key: "decidedBy", holds: "text", required: true, about: "who decided" },
  { name: "decided_on", key: "decidedOn", holds: "date", required: true, about: "when" },
  { name: "why", key: "why", holds: "text", required: true, about: "why" },
  mass("offered_g", "offeredG", {
    about: "for a feed: the amount offered, as written in the row decided about",
  }),
  {
    name: "kind",
    key: "kind",
    holds: "choice",
    choices: observationKinds,
    alsoWritten: otherKindNames,
    about: "for an observation: its kind, as written in the row decided about",
  },
  {
    name: "value",
    key: "value",
    holds: "text",
    about: "for an observation: its value, as written in the row decided about",
  },
  mass("new_offered_g", "newOfferedG", {
    neededWhenWritten: true,
    about: "the right amount offered",
  }),
  mass("new_refused_g", "newRefusedG", {
    neededWhenWritten: true,
    about: "the right amount left over",
  }),
  { name: "new_value", key: "newValue", holds: "text", about: "the right value of an observation" },
  { name: "new_unit", key: "newUnit", holds: "text", about: "the unit of the right value" },
];

/** Who acknowledged the flags of which day; kept beside the tables as acknowledgements.csv. */
const acknowledgements: readonly Column[] = [
  { ...animalId, about: "the animal whose flags were acknowledged" },
  {
    name: "acknowledged_on",
    key: "on",
    holds: "date",
    required: true,
    about: "feeding day whose flags were acknowledged",
  },
  { name: "acknowledged_by", key: "by", holds: "text", about: "who" },
  { name: "note", key: "note", holds: "text", required: true, about: "what was found or done" },
];

/** What people answered to a danger or a look, each with its end; kept beside the tables as answers.csv. */
const answers: readonly Column[] = [
  { ...animalId, about: "the animal that is answered for" },
  {
    name: "reason",
    key: "reason",
    holds: "text",
    required: true,
    about: 'what is answered, by the name that the pages give it, e.g. "hot" or "loss"',
  },
  {
    name: "answered_at",
    key: "at",
    holds: "instant",
    required: true,
    about: "when it was answered",
  },
  { name: "answered_by", key: "by", holds: "text", required: true, about: "who answered" },
  {
    name: "holds_until",
    key: "until",
    holds: "instant",
    required: true,
    about: "until when the answer holds: at most 24 h for a danger, else 7 days",
  },
  { name: "note", key: "note", holds: "text", about: "what was found, said or done" },
];

/** Every table, what people wrote beside the records included. */
export const tableColumns: Readonly<Record<TableName, readonly Column[]>> = {
  ...recordTables,
  decisions,
  acknowledgements,
  answers,
};

/** One of our columns by its name; a name that is none is a mistake of ours. */
export function columnNamed(table: TableName, name: string): Column {
  const column = tableColumns[table].find((c) => c.name === name);
  if (column === undefined) throw new Error(`the table ${table} has no column ${name}`);
  return column;
}

export const tableNames = Object.keys(tableColumns) as readonly TableName[];

/** The two tables without which nothing can be said. */
export const requiredTables: readonly TableName[] = ["animals", "weighings"];

/** Where each table's rows go in the study. */
export const tableKeys = {
  animals: "animals",
  weighings: "weighings",
  scale_checks: "scaleChecks",
  feeds: "feeds",
  plans: "plans",
  diets: "diets",
  batches: "batches",
  ingredients: "ingredients",
  housing: "housing",
  observations: "observations",
  events: "events",
  decisions: "decisions",
  acknowledgements: "acknowledgements",
  answers: "answers",
} as const satisfies Readonly<Record<TableName, string>>;
