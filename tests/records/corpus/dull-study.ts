/** A study folder as texts (or bytes, for workbooks and odd encodings). */
export type Files = Readonly<Record<string, string | Uint8Array>>;

type Table = "animals" | "weighings" | "feeds" | "diets" | "plans" | "observations" | "decisions";

export interface Change {
  /** Settings put over the usual ones. */
  readonly settings?: Readonly<Record<string, unknown>>;
  /** Lines put below a table. */
  readonly add?: Partial<Record<Table, string>>;
  /** A table in place of the usual one; null takes it away. */
  readonly put?: Partial<Record<Table, string | null>>;
  /** A text of a table that stands there exactly once, and what stands there instead. */
  readonly swap?: Partial<Record<Table, readonly (readonly [string, string])[]>>;
  /** Further files. */
  readonly files?: Files;
}

const days = Array.from({ length: 10 }, (_, i) => `2025-05-${String(i + 1).padStart(2, "0")}`);
const hours = ["01:00", "04:00", "07:00", "10:00", "13:00", "16:00", "19:00", "22:00"];
/**
 * Grams by which a day's reading stands beside the line: gut fill of a calm scale. The pups
 * grow by less than the tenth at which an order that stays the same is asked about.
 */
const noise = [6, -4, 6, -2, 0, 5, -6, 2, -3, 4];

export const animalsCsv = `animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome,outcome_date
P1,Bramble,sea otter,female,2025-03-20,2025-03-20,observed,2025-03-24 14:00,2025,in care,
P2,Thistle,sea otter,male,2025-03-18,2025-03-18,observed,2025-03-25 09:30,2025,in care,
`;

export const weighingsHead = "animal_id,at,mass_g,tare_g,scale_id,method,coat,meal,notes";
export const feedsHead = "animal_id,at,diet_id,offered_g,refused_g,route,notes";
export const plansHead =
  "animal_id,from,to,diet_id,g_per_feed,feeds_per_day,feed_times,target_mass_g,ordered_by";
export const observationsHead = "animal_id,at,kind,value,unit,notes";

/** P1 weighs 4300 g on 1 May and gains 45 g a day; P2 4700 g and 48 g. */
export const weighingLines = days.flatMap((day, i) => [
  `P1,${day} 06:30,${4300 + 45 * i + noise[i]!},0,b1,platform,dry,before,`,
  `P2,${day} 06:40,${4700 + 48 * i - noise[i]!},0,b1,platform,dry,before,`,
]);

/** Eight feeds a day of 140 g and 150 g; the last at 19:00 of 10 May. */
export const feedLines = days.flatMap((day, i) =>
  hours
    .filter((hour) => i < 9 || hour < "20")
    .flatMap((hour) => [
      `P1,${day} ${hour},milk,140,0,bottle,`,
      `P2,${day} ${hour.replace(":00", ":10")},milk,150,0,bottle,`,
    ]),
);

export const observationLines = days.flatMap((day) =>
  ["P1", "P2"].flatMap((id) => [
    `${id},${day} 08:00,temperature,37.8,degC,`,
    `${id},${day} 09:00,stool,normal,,`,
    `${id},${day} 09:00,urine,seen,,`,
  ]),
);

const times = "07:00 10:00 13:00 16:00 19:00 22:00 01:00 04:00";
export const planLines = [
  `P1,2025-05-01 06:00,,milk,140,8,${times},,A. Vellum`,
  `P2,2025-05-01 06:00,,milk,150,8,${times},,A. Vellum`,
];

const dietsCsv = `diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,fibre_pct,ash_pct,energy_kcal_per_g,density_g_per_ml,use_by_h
milk,Milk,formula,81.4,7.2,6.9,3.7,0,0.8,1.06,1.03,24
rich,Rich milk,formula,78,8,9,4.2,0,0.8,1.3,,24
mash,Clam mash,solid,80,15,1.5,2,0,1.5,0.8,,12
`;

const lines = (head: string, rows: readonly string[]) => `${[head, ...rows].join("\n")}\n`;

const tables: Readonly<Record<string, string>> = {
  animals: animalsCsv,
  weighings: lines(weighingsHead, weighingLines),
  feeds: lines(feedsHead, feedLines),
  diets: dietsCsv,
  plans: lines(plansHead, planLines),
  observations: lines(observationsHead, observationLines),
};

const settings = {
  title: "Two calm pups",
  species: ["sea otter"],
  zone: "Europe/Berlin",
  feeding_day_start_hour: 6,
};

/**
 * Two invented pups of seven weeks over ten days on which nothing happens: they
 * gain, keep their food, have a temperature in range, and every cell is written
 * plainly. Each record set is this study with one thing changed.
 */
export function dullStudy(change: Change = {}): Files {
  const texts: Record<string, string | Uint8Array> = {
    "study.json": JSON.stringify({ ...settings, ...change.settings }),
  };
  const names = new Set([...Object.keys(tables), ...Object.keys(change.add ?? {})]) as Set<Table>;
  for (const name of [...names, ...(Object.keys(change.put ?? {}) as Table[])]) {
    const put = change.put?.[name];
    if (put === null) continue;
    let text = put ?? tables[name] ?? "";
    for (const [from, to] of change.swap?.[name] ?? []) {
      if (text.split(from).length !== 2) throw new Error(`"${from}" is not once in ${name}`);
      text = text.replace(from, () => to);
    }
    texts[`${name}.csv`] = `${text}${change.add?.[name] ?? ""}`;
  }
  return { ...texts, ...change.files };
}
