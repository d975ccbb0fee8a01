import type { Draws } from "./draws.js";

/** What is truly behind a slow gain, as the bench plants it; "healthy small" is none. */
export type Planted =
  | "scale"
  | "weighing condition"
  | "swap"
  | "small but healthy"
  | "fed less than ordered"
  | "ordered too little"
  | "kept less"
  | "thin batch"
  | "converts poorly"
  | "loses"
  | "illness signs"
  | "shared cause";

export const families: readonly Planted[] = [
  "scale",
  "weighing condition",
  "swap",
  "small but healthy",
  "fed less than ordered",
  "ordered too little",
  "kept less",
  "thin batch",
  "converts poorly",
  "loses",
  "illness signs",
  "shared cause",
];

/** One scenario: what is planted, since how many days before the end, and how strongly. */
export interface Scenario {
  readonly planted: Planted;
  /** Days before the end of the records on which it begins. */
  readonly ago: number;
  readonly size: number;
  /** Whether the records that would tell are written. */
  readonly written: boolean;
  /** Touches all animals, or the asked one and some. */
  readonly all: boolean;
}

/** Draws a scenario of a family: sizes a keeper would come to ask about. */
export function scenarioOf(planted: Planted, d: Draws): Scenario {
  // What shifts a course by one step is asked about while the step is fresh.
  const steps = planted === "swap" || planted === "scale" || planted === "weighing condition";
  const ago = steps ? d.whole(3, 9) : d.whole(9, 17);
  const between: Readonly<Record<Planted, readonly [number, number]>> = {
    scale: [0.035, 0.07],
    "weighing condition": [0.035, 0.06],
    swap: [0, 0],
    "small but healthy": [0.7, 0.84],
    "fed less than ordered": [0.14, 0.28],
    "ordered too little": [0.14, 0.28],
    "kept less": [0.14, 0.28],
    "thin batch": [0.16, 0.3],
    "converts poorly": [0.14, 0.26],
    loses: [0.5, 0.8],
    "illness signs": [0.12, 0.25],
    "shared cause": [0.15, 0.28],
  };
  return {
    planted,
    ago,
    size: d.uniform(...between[planted]),
    written: d.chance(0.75),
    all: planted === "shared cause" || planted === "scale" || d.chance(0.5),
  };
}
