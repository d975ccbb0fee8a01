import { analyse } from "../../../src/analysis/analyse.js";
import { animalOf } from "../../../src/analysis/animal-of.js";
import { explainSlowGain } from "../../../src/analysis/explain-slow-gain.js";
import type {
  RivalExplanations,
  RivalName,
} from "../../../src/analysis/explanations/explanation.js";
import type { RealOrNot } from "../../../src/analysis/real-answer.js";
import { parseStudy } from "../../../src/records/parse-study.js";
import type { Planted } from "./families.js";
import { type InventedNursery, inventedNursery } from "./invented-nursery.js";

/** What was planted, under the name that the table of explanations has for it. */
export const nameOf = (planted: Planted): RivalName =>
  planted === "converts poorly" || planted === "loses" ? "converts poorly or loses" : planted;

export interface TriedNursery {
  readonly planted: Planted;
  readonly seed: number;
  readonly nursery: InventedNursery;
  readonly explanations: RivalExplanations;
  readonly real: RealOrNot;
  /** The planted cause is called likely; stands among the first two; another one is called likely. */
  readonly likely: boolean;
  readonly amongTwo: boolean;
  readonly wrong: readonly RivalName[];
  /** Share of the expected gain that is missing, by what it was found. */
  readonly missingShare: number | null;
}

/** Reads an invented nursery's files, asks why the one animal gains slowly, and holds the answer against the truth. */
export async function tryNursery(planted: Planted, seed: number): Promise<TriedNursery> {
  const nursery = inventedNursery(planted, seed);
  const encode = (text: string) => new TextEncoder().encode(text);
  const study = parseStudy(nursery.files.map(({ path, text }) => ({ path, bytes: encode(text) })));
  if (study.setAside.length > 0)
    throw new Error(
      `${study.setAside.length} rows set aside: ${JSON.stringify(study.setAside[0])}`,
    );
  const { value } = await analyse(study, { onDay: nursery.onDay, curves: [] });
  const animal = animalOf(value, nursery.asked);
  const explained = explainSlowGain(value, animal, study.tables.housing);
  const explanations = explained.explanations.value;
  const truth = nameOf(planted);
  const likely = explanations.rivals.filter((r) => r.verdict === "likely").map((r) => r.rival);
  return {
    planted,
    seed,
    nursery,
    explanations,
    real: explained.real.value,
    likely: likely.includes(truth),
    amongTwo: explanations.rivals.slice(0, 2).some((r) => r.rival === truth),
    wrong: likely.filter((r) => r !== truth),
    missingShare: explained.explanations.diagnostics["missingShare"] as number | null,
  };
}
