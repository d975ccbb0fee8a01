import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import Papa from "papaparse";

/** The committed demo study, read as plain text cells: no reader of the library takes part. */
export type Cells = Readonly<Record<string, string>>;

export const demoFolder = fileURLToPath(new URL("../../data-demo/", import.meta.url));

export function demoText(name: string, folder = demoFolder): string {
  return readFileSync(`${folder}/${name}`, "utf8");
}

export function demoRows(table: string): readonly Cells[] {
  return Papa.parse<Cells>(demoText(`${table}.csv`), { header: true, skipEmptyLines: true }).data;
}

export interface DemoTruth {
  readonly betterSeason: {
    readonly season: string;
    readonly windowAgeD: { readonly from: number; readonly to: number };
    readonly trueMeanGain: { readonly n: number; readonly gPerD: number };
    readonly sameAnimalsWithoutTheEffect: { readonly n: number; readonly gPerD: number };
  };
  readonly slowGainers: readonly {
    readonly animal: string;
    readonly cause: string;
    readonly from: string;
    readonly to: string;
    readonly trulySlow: boolean;
  }[];
  readonly clockNights: readonly { readonly spring: string; readonly autumn: string | null }[];
  /** What was planted on the last day, for the page that shows it. */
  readonly livingDay: {
    readonly day: string;
    readonly recordsEnd: string;
    readonly inCare: readonly string[];
    readonly danger: readonly string[];
    readonly secondLook: readonly string[];
    readonly measureFirst: readonly string[];
    readonly newcomer: readonly string[];
    readonly orderBegun: readonly string[];
    readonly scales: { readonly passed: readonly string[]; readonly old: readonly string[] };
  };
  readonly slips: readonly DemoSlip[];
  readonly animals: readonly {
    readonly animal: string;
    readonly birthDate: string;
    readonly birthMassG: number;
    readonly firstSolidAgeD: number;
    readonly weanedAgeD: number;
    readonly gainInWindowGPerD: number | null;
    readonly milestoneAgeD: Readonly<Record<string, number>>;
    readonly mass: readonly (readonly [number, number])[];
  }[];
}

export interface DemoSlip {
  readonly kind: string;
  readonly expected:
    | "set aside"
    | "suspected slip"
    | "accepted with a notice"
    | "seen only by its old batch";
  readonly column: string;
  readonly trueValue: string;
  readonly written: string;
  readonly file: string;
  readonly line: number;
  readonly animal?: string;
  readonly otherAnimal?: string;
}

export function demoTruth(folder = demoFolder): DemoTruth {
  return JSON.parse(demoText("truth.json", folder)) as DemoTruth;
}
