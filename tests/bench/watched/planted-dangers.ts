import { seededRandom } from "../../../src/core/random.js";
import { type Pages, type SeenLine, trueMass } from "./nursery-pages.js";

/** The dangers that must stand as danger on the next page, as keepers write them. */
export const plantedDangers = [
  "cold",
  "hot",
  "low glucose",
  "repeated vomit",
  "bloat",
  "blood",
  "not suckling",
  "cannot be roused",
  "no urine",
  "no feed",
  "loss over 10 %",
] as const;
export type PlantedDanger = (typeof plantedDangers)[number];

const ways: Readonly<Partial<Record<PlantedDanger, readonly (readonly [string, string])[]>>> = {
  "low glucose": [
    ["glucose", "28"],
    ["glucose", "35 mg/dL"],
    ["glucose", "1.6 mmol/L"],
    ["glucose", "LO"],
  ],
  bloat: [
    ["bloat", "tight"],
    ["bloat", "yes"],
    ["note", "belly distended and bloated"],
  ],
  blood: [
    ["stool", "bloody"],
    ["stool", "watery with blood"],
    ["vomit", "once, blood in it"],
    ["note", "blood in stool at noon"],
  ],
  "not suckling": [
    ["suckle", "none"],
    ["behaviour", "not suckling"],
    ["behaviour", "lethargic, will not suckle"],
  ],
  "cannot be roused": [
    ["behaviour", "cannot be roused"],
    ["behaviour", "unresponsive"],
    ["note", "found unresponsive"],
  ],
};

/**
 * The same pages with one danger of one animal, written in the hours before a page and
 * with everything later taken away.
 *
 * @param page minutes from the begin.
 */
export function withDanger(
  pages: Pages,
  danger: PlantedDanger,
  animalId: string,
  page: number,
  seed: number,
): Pages {
  const random = seededRandom(seed);
  const a = pages.animals.find((each) => each.id === animalId)!;
  const own = (line: { readonly animalId: string }) => line.animalId === animalId;
  const ago = page - Math.round(20 + 500 * random.uniform());
  const pick = <T>(of: readonly T[]) => of[Math.floor(random.uniform() * of.length)]!;
  const line = (kind: string, value: string, min = ago): SeenLine => ({
    animalId,
    min,
    kind,
    value,
  });
  const seen: SeenLine[] = [];
  let { feeds, weighings } = pages;
  let kept = pages.seen;
  const otter = a.species === "sea otter";
  if (danger === "cold") {
    const degC = otter ? 35 + 1.9 * random.uniform() : 34 + 1.8 * random.uniform();
    seen.push(line("temperature", temperature(degC, random.uniform())));
  } else if (danger === "hot") {
    const degC = 38.8 + 1.5 * random.uniform();
    seen.push(line("temperature", temperature(degC, random.uniform())));
  } else if (danger === "repeated vomit") {
    if (random.uniform() < 0.5) seen.push(line("vomit", pick(["twice", "2x", "3 times, 10 g"])));
    else seen.push(line("vomit", "yes, 12 g"), line("vomit", "again", ago + 15));
  } else if (danger === "no urine") {
    kept = kept.filter((s) => !(own(s) && s.kind === "urine" && s.min > page - 54 * 60));
    for (let h = 48; h > 0; h -= 12) seen.push(line("urine", pick(["none", "no"]), page - h * 60));
    seen.push(line("urine", "none", page - 15));
  } else if (danger === "no feed") {
    const hours = a.ageAtAdmissionD + (page - a.admittedMin) / 1440 < 61 ? 13 : 26;
    feeds = feeds.filter((f) => !(own(f) && f.min > page - hours * 60));
  } else if (danger === "loss over 10 %") {
    const best = trueMass(a, (page - a.admittedMin) / 1440);
    const massG = Math.round(best * (0.84 + 0.03 * random.uniform()));
    weighings = [
      ...weighings.filter((w) => !(own(w) && w.min > ago - 60)),
      { animalId, min: ago, massG },
    ];
  } else {
    const [kind, value] = pick(ways[danger]!);
    seen.push(line(kind, value));
  }
  const past = <L extends { readonly min: number }>(lines: readonly L[]) =>
    lines.filter((l) => l.min <= page);
  return {
    ...pages,
    animals: pages.animals.filter((each) => each.admittedMin <= page),
    weighings: past(weighings),
    feeds: past(feeds),
    seen: past([...kept, ...seen]),
  };
}

function temperature(degC: number, how: number): string {
  if (how < 0.4) return degC.toFixed(1);
  if (how < 0.7) return `${degC.toFixed(1)} C`;
  return `${(degC * 1.8 + 32).toFixed(1)} F`;
}
