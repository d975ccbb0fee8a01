import { parseStudy, type StudyInput } from "../../src/records/parse-study.js";
import type { SetAsideRow, Study } from "../../src/records/study.js";

/** A study of two animals as texts, for tests that change one thing at a time. */
export const settings = {
  title: "Two pups",
  species: ["sea otter"],
  zone: "Europe/Berlin",
  feeding_day_start_hour: 6,
};

export const animalsCsv = `animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season
P1,Bramble,sea otter,female,2025-03-01,2025-03-02,umbilicus,2025-03-05 14:00,2025
P2,Thistle,sea otter,m,2025-03-03,,observed,2025-03-06 09:30,2025
`;

export const weighingsCsv = `animal_id,at,mass_g,tare_g,scale_id,method,coat,meal,notes
P1,2025-03-05 14:30,2350,410,b1,bucket,dry,before,arrival
P1,2025-03-06 07:00,2371,410,b1,bucket,dry,before,
P2,2025-03-06 10:00,1500,0,b1,carried,damp,after,"small, quiet"
P2,2025-03-07 07:00,1512,0,b1,carried,dry,before,
`;

export type Texts = Readonly<Record<string, string | Uint8Array>>;

export function inputs(texts: Texts): StudyInput[] {
  return Object.entries(texts).map(([path, text]) => ({
    path,
    bytes: typeof text === "string" ? new TextEncoder().encode(text) : text,
  }));
}

/** Reads the small study with some files put in place of the usual ones. */
export function study(texts: Texts = {}, more: object = {}): Study {
  return parseStudy(
    inputs({
      "study.json": JSON.stringify({ ...settings, ...more }),
      "animals.csv": animalsCsv,
      "weighings.csv": weighingsCsv,
      ...texts,
    }),
  );
}

/** Reads weighings below the usual header. */
export function weighings(rows: string, more: object = {}): Study {
  return study({ "weighings.csv": `${weighingsCsv.split("\n")[0]}\n${rows}\n` }, more);
}

export function balanced(s: Study): boolean {
  return s.counts.every((c) => c.rowsIn === c.accepted + c.setAside);
}

/** Set-aside rows in short: line, column, value, reason, suggestion. */
export const short = (rows: readonly SetAsideRow[]) =>
  rows.map((r) => [r.line, r.column, r.value, r.reason.code, r.suggestion.code]);
