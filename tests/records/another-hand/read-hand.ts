import { parseStudy } from "../../../src/records/parse-study.js";
import type { Study } from "../../../src/records/study.js";
import { buildSeries } from "../../../src/series/build-series.js";
import { questionsOf } from "../corpus/asked-about.js";
import { accepted, inputsOf } from "../corpus/pages-of.js";
import type { Draft } from "./draft.js";
import { matchRows } from "./match-rows.js";
import { type Said, saidDifferently, whatItSays } from "./what-it-says.js";
import type { Hand } from "./write-hand.js";

/** What became of a study in another hand. */
export interface Reading {
  /** The sentence with which it was refused; null when it was read. */
  readonly refused: string | null;
  /** Differences from the truth about which nobody was asked by row: there must be none. */
  readonly silent: readonly string[];
  readonly lostAnimals: readonly string[];
  /** Questions about rows beyond those of the plain hand. */
  readonly asked: number;
  readonly askedFor: readonly string[];
  readonly rows: number;
  /** What came instead of what was meant, asked about or not. */
  readonly differing: readonly string[];
  /** Every row read as meant, nothing asked beyond a few rows, the analysis the same. */
  readonly whole: boolean;
}

/** What the study says in our own plain writing. */
export interface Plain {
  /** True rows that are asked about however they are written: the demo has slips of its own. */
  readonly differing: ReadonlySet<string>;
  readonly questions: ReadonlySet<string>;
  readonly said: ReadonlyMap<string, Said>;
  /** Every accepted row and setting, whatever place it came from. */
  readonly rows: string;
}

/** The share of rows that may be asked about in a hand that needs no asking. */
const mostAsked = 0.02;

/** Reads a hand after one accepted proposal and holds it against what the generator knows. */
export async function readHand(draft: Draft, hand: Hand, plain: Plain | null): Promise<Reading> {
  const read = await readAccepted(hand);
  const { truth } = draft;
  const animals = truth.tables["animals"]!.rows.map((a) => a["animal_id"]!);
  const empty = {
    silent: [],
    lostAnimals: [],
    asked: 0,
    askedFor: [],
    differing: [],
    rows: hand.places.size,
  };
  if (typeof read === "string") return { ...empty, refused: read, whole: false };

  const asked = new Map<string, string>();
  const series = buildSeries(read);
  for (const { file, line, says } of questionsOf(read, series)) asked.set(`${file}:${line}`, says);
  const loose = new Set(
    [...draft.tables.values()].filter((t) => t.layout === "days across").map((t) => t.name),
  );
  const { differing, extra, lostAnimals } = matchRows(truth, hand.places, read, series, loose);
  const unlikePlain = [...differing].filter(([id]) => !plain?.differing.has(id));
  const silent = [...differing]
    .filter(([id]) => !asked.has(hand.places.get(id)!))
    .map(([id, got]) => `${id} (${hand.places.get(id)}): ${got}`);
  silent.push(
    ...extra.filter((place) => !asked.has(place)).map((place) => `a row of nothing: ${place}`),
  );
  const idAt = new Map([...hand.places].map(([id, place]) => [place, id]));
  const new_ = [...asked].filter(([place]) => !plain?.questions.has(idAt.get(place) ?? place));
  // The same rows give the same analysis; it is done again only where a row differs.
  const said =
    plain !== null && plain.rows === rowsOf(read)
      ? plain.said
      : read.tables.weighings.length === 0
        ? new Map<string, Said>()
        : await whatItSays(read);
  const askedOf = animalsAskedAbout(truth, hand, asked);
  const otherwise: string[] = [];
  for (const id of plain === null ? [] : animals) {
    const now = said.get(id);
    const before = plain!.said.get(id);
    if (before === undefined) continue;
    const differences =
      now === undefined ? ["is not shown"] : saidDifferently(before, now, loose.size > 0);
    otherwise.push(...differences.map((each) => `${id}: ${each}`));
    if (differences.length > 0 && !askedOf.has(id)) silent.push(`${id}: ${differences.join("; ")}`);
  }
  const rows = hand.places.size;
  return {
    refused: null,
    silent,
    lostAnimals,
    asked: new_.length,
    askedFor: new_.slice(0, 3).map(([place, says]) => `${place}: ${says}`),
    differing: [...unlikePlain.map(([id, got]) => `${id}: ${got}`), ...otherwise].slice(0, 3),
    rows,
    whole:
      silent.length === 0 &&
      lostAnimals.length === 0 &&
      unlikePlain.length === 0 &&
      otherwise.length === 0 &&
      new_.length <= mostAsked * rows,
  };
}

/** The plain hand read: its own questions (a planted loss is doubted) are no other hand's. */
export async function readPlain(draft: Draft, hand: Hand): Promise<Plain> {
  const study = await readAccepted(hand);
  if (typeof study === "string") throw new Error(`the plain hand was refused: ${study}`);
  const idAt = new Map([...hand.places].map(([id, place]) => [place, id]));
  const series = buildSeries(study);
  const { differing, extra, lostAnimals } = matchRows(
    draft.truth,
    hand.places,
    study,
    series,
    new Set(),
  );
  const questions = new Set(
    questionsOf(study, series).map(
      ({ file, line }) => idAt.get(`${file}:${line}`) ?? `${file}:${line}`,
    ),
  );
  const wrong = [...differing].filter(([id]) => !questions.has(id));
  if (wrong.length + extra.length + lostAnimals.length > 0)
    throw new Error(`the plain hand was misread: ${wrong.slice(0, 3)} ${extra} ${lostAnimals}`);
  return {
    differing: new Set(differing.keys()),
    questions,
    said: await whatItSays(study),
    rows: rowsOf(study),
  };
}

function rowsOf({ tables, settings, decisions }: Study): string {
  const rows = Object.entries(tables).map(([name, list]) => [
    name,
    list.map(({ origin: _, ...row }: { readonly origin: unknown }) => JSON.stringify(row)).sort(),
  ]);
  return JSON.stringify([rows, settings, decisions ?? []]);
}

function animalsAskedAbout(
  truth: Draft["truth"],
  hand: Hand,
  asked: ReadonlyMap<string, string>,
): Set<string> {
  const found = new Set<string>();
  for (const [id, place] of hand.places) {
    const [table, index] = id.split(":") as [string, string];
    const animal = truth.tables[table]!.rows[Number(index)]!["animal_id"];
    if (animal !== undefined && asked.has(place)) found.add(animal);
  }
  return found;
}

/** Reads a hand after what is proposed was accepted once, as `check --save-mapping` does. */
async function readAccepted(hand: Hand): Promise<Study | string> {
  try {
    return parseStudy(accepted(await inputsOf(hand.files)));
  } catch (error) {
    if (!(error instanceof Error) || error.name !== "UsageError") throw error;
    return error.message;
  }
}
