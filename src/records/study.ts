import type { Notice } from "../core/notice.js";
import type { UnitName } from "../units/quantity.js";
import type { PriorFile } from "./prior-file.js";
import type { Table } from "./table.js";

/**
 * The shape of a study once read: accepted rows as typed tables, rows set
 * aside, and the count that proves none was lost. Instants are epoch
 * milliseconds; the study's zone turns them back into local time.
 */
export interface Study {
  readonly settings: StudySettings;
  readonly tables: StudyTables;
  readonly setAside: readonly SetAsideRow[];
  /** Per table: rows in the file, accepted, set aside. In = accepted + set aside. */
  readonly counts: readonly TableCount[];
  /** Notices about single accepted rows and about whole tables. */
  readonly notices: readonly Notice[];
  /** SHA-256 of every file read, by path relative to the study folder. */
  readonly inputs: readonly InputFile[];
  /** What a person decided about doubted rows (decisions.csv); absent without that file. */
  readonly decisions?: readonly DecisionRow[];
  /** Notes by which people acknowledged flags (acknowledgements.csv); absent without that file. */
  readonly acknowledgements?: readonly AcknowledgementRow[];
  /** What people answered to dangers and looks, each with its end (answers.csv); absent without that file. */
  readonly answers?: readonly AnswerRow[];
  /**
   * Animals that have records and no usable row in the animals table: they stand
   * in with what is known of them. Absent where there are none.
   */
  readonly standIns?: readonly AnimalRow[];
  /** What a person must be asked about single rows and cells, word for word. */
  readonly questions?: readonly Question[];
  /** Which column of which file was read as what, and in which unit. */
  readonly columns?: readonly ColumnUse[];
}

/** How a column of a file was understood. */
export interface ColumnUse {
  readonly table: TableName;
  readonly file: string;
  /** Our name of the column; null for one that was not read. */
  readonly column: string | null;
  /** Its header as written. */
  readonly header: string;
  readonly unit: string | null;
  readonly unitFrom: "column setting" | "header" | "study setting" | "our own name" | null;
}

export interface StudySettings {
  readonly title: string;
  /** Profile names, e.g. ["sea otter", "harbour seal"]. */
  readonly species: readonly string[];
  /** IANA time zone of the study; all local times are read in it. */
  readonly zone: string;
  /** Local clock hour (0-23) at which the feeding day begins. */
  readonly feedingDayStartHour: number;
  /** A blank tare means zero. Default false: the row carries a notice. */
  readonly blankTareIsZero: boolean;
  /** A blank refusal means nothing was refused. Default false: unknown. */
  readonly blankRefusalIsNone: boolean;
  readonly dateStyle: "year-month-day" | "day-month-year" | "month-day-year";
  readonly decimal: "point" | "comma";
  /** Scale error (standard deviation, g) by scale_id, where known. */
  readonly scaleErrorG: Readonly<Record<string, number>>;
  /** Decimal mark in observations, where it is another than elsewhere in the study. */
  readonly signDecimal?: "point" | "comma";
  /** Unit of bare numbers by kind of observation ("temperature", "glucose"), as written. */
  readonly signUnits?: Readonly<Record<string, string>>;
  /** Profile overrides by species name, as the user wrote them. */
  readonly speciesOverrides: Readonly<Record<string, unknown>>;
  /** Orders are written diet by diet: a new one replaces only the diets it names. Default false. */
  readonly ordersByDiet?: boolean;
  /** Bands of mass over the year, by animal_id, that the veterinarian set for those in long-term care. */
  readonly massBands?: Readonly<Record<string, MassBand>>;
  /** Bounds beyond which an order is doubted, where the study sets its own. */
  readonly orderBounds?: Partial<OrderBounds>;
  /** What other nurseries know of gain, from the prior files that study.json names. */
  readonly priors?: readonly PriorFile[];
  /** Limits of signs and rules that the veterinarian set, by name; null switches one off. */
  readonly watchLimits?: Readonly<Record<string, number | readonly [number, number] | null>>;
  /** What the veterinarian wrote is to be done about a danger, by its name, word for word. */
  readonly standingInstructions?: Readonly<Record<string, string>>;
  /** Whom to call, word for word. */
  readonly callWhom?: string;
  /** Mass below which an animal in its fast or moult is a danger, g, by animal id. */
  readonly floorG?: Readonly<Record<string, number>>;
}

/** A band of mass over the year, by days of the year ("03-01") with straight lines between them. */
export interface MassBand {
  readonly setBy: string | null;
  readonly points: readonly {
    readonly on: string;
    readonly lowG: number;
    readonly highG: number;
  }[];
}

/** Bounds beyond which an order or a suggestion is doubted; `null` switches one off. */
export interface OrderBounds {
  /** Largest feed, % of the last sure mass. */
  readonly feedPctOfMass: number | null;
  /** Smallest feed, % of the animal's usual feed. */
  readonly feedPctOfUsual: number | null;
  /** Change of a day's amount against the order before, %. */
  readonly dayChangePct: number | null;
  /** Rise of a day's energy in a thin newcomer, %. */
  readonly newcomerKcalPct: number | null;
  /** Stated energy of a diet against that of its composition, %. */
  readonly dietEnergyPct: number | null;
  /** Growth of the mass while the order was not raised, %. */
  readonly massGrowthPct: number | null;
}

/** What every accepted row has beside its values. */
export interface ReadRow {
  readonly origin: RowOrigin;
  /**
   * Cells in which something stands that gave no value ("?", "#REF!", "ca. 60"),
   * as written, by the key of the row. Absent where there is none. What is unread
   * is unknown, whatever a blank means.
   */
  readonly unread?: Readonly<Record<string, string>>;
}

/** Where an accepted row came from. */
export interface RowOrigin {
  readonly file: string;
  /** 1-based line of the row in the file (sheet row for a workbook). */
  readonly line: number;
  /** The one cell it was made of ("D7"), where a line of the file gave several rows. */
  readonly cell?: string;
}

/** Rows by table; those of which there are many for each animal are kept as columns. */
export interface StudyTables {
  readonly animals: readonly AnimalRow[];
  readonly weighings: Table<WeighingRow>;
  readonly scaleChecks: readonly ScaleCheckRow[];
  readonly feeds: Table<FeedRow>;
  readonly plans: readonly PlanRow[];
  readonly diets: readonly DietRow[];
  readonly batches: readonly BatchRow[];
  readonly ingredients: readonly IngredientRow[];
  readonly housing: readonly HousingRow[];
  readonly observations: Table<ObservationRow>;
  readonly events: readonly EventRow[];
}

export type TableName =
  | "animals"
  | "weighings"
  | "scale_checks"
  | "feeds"
  | "plans"
  | "diets"
  | "batches"
  | "ingredients"
  | "housing"
  | "observations"
  | "events"
  | "decisions"
  | "acknowledgements"
  | "answers";

/** A civil date as text, `YYYY-MM-DD`. */
export type CivilDate = string;

/** Milliseconds since 1970-01-01T00:00Z. */
export type Instant = number;

export type Sex = "female" | "male" | "unknown";
export type BirthDateBasis = "observed" | "teeth" | "pelage" | "umbilicus" | "mass" | "unknown";
export type Outcome =
  | "in care"
  | "released"
  | "transferred"
  | "long-term care"
  | "died"
  | "euthanised";

export interface AnimalRow extends ReadRow {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly sex: Sex;
  readonly birthDateEarliest: CivilDate | null;
  readonly birthDateLatest: CivilDate | null;
  readonly birthDateBasis: BirthDateBasis;
  readonly admittedAt: Instant | null;
  readonly season: string | null;
  readonly outcome: Outcome | null;
  readonly outcomeReason: string | null;
  readonly outcomeDate: CivilDate | null;
  readonly notes: string | null;
  /** Why it stands in without a usable row in the animals table; absent for all others. */
  readonly withoutRow?: Notice;
}

export interface WeighingRow extends ReadRow {
  readonly animalId: string;
  readonly at: Instant;
  /** Scale reading, before the tare is taken off. */
  readonly massG: number;
  readonly tareG: number | null;
  readonly scaleId: string | null;
  readonly method: "carried" | "bucket" | "platform" | "voluntary" | null;
  readonly coat: "dry" | "damp" | "wet" | null;
  readonly meal: "before" | "after" | "unknown";
  readonly notes: string | null;
}

export interface ScaleCheckRow extends ReadRow {
  readonly scaleId: string;
  readonly at: Instant;
  readonly knownG: number;
  readonly readingG: number;
}

export type Route = "bottle" | "syringe" | "tube" | "hand" | "free";

export interface FeedRow extends ReadRow {
  /** Exactly one of animalId and groupId is given. */
  readonly animalId: string | null;
  readonly groupId: string | null;
  readonly at: Instant;
  readonly dietId: string | null;
  readonly batchId: string | null;
  readonly offeredG: number;
  /** `null` is unknown, unless the study says a blank refusal means none. */
  readonly refusedG: number | null;
  readonly route: Route | null;
  readonly notes: string | null;
}

/** A cell as it was written, and what it was read as; null where it could not be read. */
export interface Written<T> {
  readonly words: string;
  readonly value: T | null;
}

export interface OrderedAmount {
  readonly amount: number;
  readonly unit: UnitName;
}

/** Days of the week (1 is Monday), or every so many days from the day the order begins. */
export type OrderedDays =
  | { readonly kind: "week"; readonly days: readonly number[] }
  | { readonly kind: "every"; readonly days: number };

/**
 * One line of an order, cell by cell; a blank cell is null. What is in force by
 * it is said by `series/orders` alone.
 */
export interface PlanRow extends ReadRow {
  readonly animalId: string;
  readonly from: Instant;
  readonly to: Written<Instant> | null;
  readonly dietId: string | null;
  /** Amount of one feed, in the unit of its cell or column. */
  readonly perFeed: Written<OrderedAmount | "nil by mouth"> | null;
  readonly mlPerFeed: Written<OrderedAmount | "nil by mouth"> | null;
  /** Amount of a whole day. */
  readonly perDay: Written<OrderedAmount | "nil by mouth"> | null;
  readonly feedsPerDay: Written<number | "nil by mouth"> | null;
  /** Local clock times "HH:MM". */
  readonly feedTimes: Written<readonly string[]> | null;
  readonly days: Written<OrderedDays> | null;
  readonly targetMassG: number | null;
  readonly orderedBy: string | null;
  readonly notes: string | null;
}

/** Composition as fed, per cent of mass, `null` where not known. */
export interface Composition {
  readonly waterPct: number | null;
  readonly proteinPct: number | null;
  readonly fatPct: number | null;
  readonly carbohydratePct: number | null;
  readonly fibrePct: number | null;
  readonly ashPct: number | null;
  readonly energyKcalPerG: number | null;
}

export interface DietRow extends Composition, ReadRow {
  readonly dietId: string;
  readonly name: string | null;
  readonly kind: "formula" | "solid" | "supplement";
  readonly densityGPerMl: number | null;
  readonly useByH: number | null;
}

/** A batch of a diet; composition that is not null overrides the diet's. */
export interface BatchRow extends Composition, ReadRow {
  readonly batchId: string;
  readonly dietId: string;
  readonly madeAt: Instant;
  readonly massG: number | null;
  readonly useByH: number | null;
  readonly notes: string | null;
}

export interface IngredientRow extends ReadRow {
  readonly batchId: string;
  readonly dietId: string;
  readonly massG: number;
}

export interface HousingRow extends ReadRow {
  readonly animalId: string | null;
  readonly groupId: string | null;
  readonly from: Instant;
  readonly to: Instant | null;
  readonly place: string;
}

export type ObservationKind =
  | "temperature"
  | "length"
  | "girth"
  | "condition score"
  | "glucose"
  | "urine"
  | "stool"
  | "vomit"
  | "regurgitation"
  | "bloat"
  | "blood"
  | "convulsion"
  | "behaviour"
  | "suckle"
  | "hydration"
  | "medication"
  | "fluids"
  | "exam"
  | "swim"
  | "groom"
  | "milestone"
  | "note";

export interface ObservationRow extends ReadRow {
  readonly animalId: string;
  readonly at: Instant;
  readonly kind: ObservationKind;
  /** A number where the text is a bare one; what it means, `signs` of the series say. */
  readonly value: number | null;
  /** The cell as written. */
  readonly valueText: string | null;
  readonly unit: string | null;
  readonly notes: string | null;
  /** Present where a person decided about it: the doubt is lifted. */
  readonly decided?: "keep" | "correct";
}

export interface EventRow extends ReadRow {
  readonly at: Instant;
  readonly to: Instant | null;
  readonly scope: "study" | "season" | "place" | "animal";
  readonly kind:
    | "protocol change"
    | "outage"
    | "heat"
    | "cold"
    | "milk change"
    | "move"
    | "illness in group"
    | "staff";
  readonly notes: string | null;
}

/**
 * Somebody's answer to one reason for which an animal stands high: until when it
 * holds is required. It changes no record, opens no suggestion, and lapses when
 * things get worse.
 */
export interface AnswerRow extends ReadRow {
  readonly animalId: string;
  /** What is answered: the name of the reason, e.g. "hot". */
  readonly reason: string;
  readonly at: Instant;
  readonly by: string;
  readonly until: Instant;
  readonly note: string | null;
}

/** Somebody has seen an animal's flags. It changes no record and silences nothing that gets worse. */
export interface AcknowledgementRow extends ReadRow {
  readonly animalId: string;
  /** Feeding day whose flags were acknowledged. */
  readonly on: CivilDate;
  readonly by: string | null;
  readonly note: string;
}

/**
 * What a person decided about one weighing, feed or observation. The row is named
 * by what it says: its reading, the amount offered, or its kind and value; exactly
 * one of `massG`, `offeredG` and `kind` is given. New values stand beside it, never
 * in its place.
 */
export interface DecisionRow extends ReadRow {
  readonly animalId: string;
  readonly at: Instant;
  /** The reading as written in the row that is decided about. */
  readonly massG: number | null;
  /** The amount offered as written, for a feed. */
  readonly offeredG?: number | null;
  /** Kind and value as written, for an observation. */
  readonly kind?: ObservationKind | null;
  readonly value?: string | null;
  readonly decision: "correct" | "keep" | "leave out";
  readonly newAnimalId: string | null;
  readonly newAt: Instant | null;
  readonly newMassG: number | null;
  readonly newTareG: number | null;
  readonly newOfferedG?: number | null;
  readonly newRefusedG?: number | null;
  readonly newValue?: string | null;
  readonly newUnit?: string | null;
  readonly decidedBy: string;
  readonly decidedOn: CivilDate;
  readonly why: string;
}

/** A row or a cell that a person must be asked about. */
export interface Question {
  readonly table: TableName;
  readonly file: string;
  readonly line: number;
  /** Whom it concerns, as far as can be told; empty where it cannot. */
  readonly animals: readonly string[];
  /** When, as far as can be told: its own time, or that of the row beside it. */
  readonly at: Instant | null;
  readonly column: string | null;
  /** The cell as written. */
  readonly written: string | null;
  /** The whole row as written, where it could not be used. */
  readonly row: string | null;
  readonly setAside: boolean;
  readonly what: Notice;
  readonly todo: Notice | null;
}

/** A row that cannot be used: where it stands, what is wrong, what to do. */
export interface SetAsideRow {
  readonly table: TableName;
  readonly file: string;
  readonly line: number;
  readonly column: string | null;
  /** The offending cell as written. */
  readonly value: string | null;
  /** A code of the catalogue with its parameters; its sentence says what is wrong. */
  readonly reason: Notice;
  /** What the reader may do about it; a code of the catalogue. */
  readonly suggestion: Notice;
  /** The whole row as written, so that nothing is lost. */
  readonly raw: readonly string[];
  /** The one cell it was made of ("D7"), where a line of the file gave several rows. */
  readonly cell?: string;
}

export interface TableCount {
  readonly table: TableName;
  readonly file: string;
  readonly rowsIn: number;
  readonly accepted: number;
  readonly acceptedWithNotice: number;
  readonly setAside: number;
}

export interface InputFile {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
}
