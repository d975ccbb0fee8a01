import { dayOfStudy } from "../../src/publish/day-of-folder.js";
import { dayPage } from "../../src/publish/day-page.js";
import { shiftPages } from "../../src/publish/write-hand-over.js";
import { parseStudy } from "../../src/records/parse-study.js";
import {
  dullStudy,
  feedLines,
  feedsHead,
  observationLines,
  observationsHead,
  planLines,
  plansHead,
  weighingLines,
  weighingsHead,
} from "../records/corpus/dull-study.js";

type Table = "animals" | "weighings" | "feeds" | "plans" | "observations";

/** What is written otherwise of one animal: "ID" and "NAME" in its lines stand for its own. */
export interface Plant {
  /** A text of its lines that stands there exactly once, and what stands there instead. */
  readonly swap?: Partial<Record<Table, readonly (readonly [string, string])[]>>;
  readonly add?: Partial<Record<Table, readonly string[]>>;
  readonly put?: Partial<Record<Table, readonly string[]>>;
  /** Its lines that hold this are left out. */
  readonly leaveOut?: Partial<Record<Table, RegExp>>;
}

export type PageName = "hand-over" | "sheet" | "day";

/** What stands of one animal on the pages, above every fold. */
export interface Ward {
  readonly block: (page: PageName, id: string) => string;
  /** The first sentences of a page, above all animals. */
  readonly headline: (page: "hand-over" | "day") => string;
  /** What stands on the hand-over outside of every animal's block. */
  readonly others: string;
  /** Rows of the animal's sheet: "07:00 140 g milk". */
  readonly rows: (id: string) => readonly string[];
}

/** Invented call names, none of which is near another. */
const names =
  "Bracken Cobble Dapple Ember Fallow Gorse Heather Indigo Jasper Kelp Lichen Marram Nettle Onyx Pumice Quartz Rowan Saffron Tansy Umber Vetch Wrack Yarrow Zinnia Alder Basalt Clover Dulse Elder Flint Granite Hazel Iris Juniper Kale Larch Mallow Nutmeg Oxlip Poppy Quince Ragwort Sorrel Thyme Ursina Violet Willow Xylo Yew Zephyr Anise Borage Chicory Dill Fescue Galium Hemlock Ironweed Jonquil Knapweed Lupin Mugwort Nigella Orache Peony Quillwort Reedmace Samphire Teasel Uvularia Vervain Woad Yucca Agrimony Bistort Campion".split(
    " ",
  );

export const idOf = (i: number) => `W${String(i + 11)}x${String.fromCharCode(97 + (i % 26))}`;
export const nameOf = (i: number) => names[i]!;

/** The lines of the calm study's first animal, as everybody's of the ward. */
const calm: Readonly<Record<Table, readonly string[]>> = {
  animals: [
    "ID,NAME,sea otter,female,2025-03-20,2025-03-20,observed,2025-03-24 14:00,2025,in care,",
  ],
  weighings: own(weighingLines),
  feeds: own(feedLines),
  // Begun later than the first feed: an order that stood while the pup grew by a tenth is asked about.
  plans: own(planLines).map((line) => line.replace("2025-05-01", "2025-05-03")),
  observations: own(observationLines),
};
const heads: Readonly<Record<Table, string>> = {
  animals:
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome,outcome_date",
  weighings: weighingsHead,
  feeds: feedsHead,
  plans: `${plansHead},ml_per_feed,days,notes`,
  observations: observationsHead,
};

function own(lines: readonly string[]): readonly string[] {
  return lines.filter((line) => line.startsWith("P1,")).map((line) => line.replace("P1", "ID"));
}

/** The pages of a ward in which each animal has one plant, and of one in which none has. */
export async function wardOf(plants: readonly Plant[]): Promise<Ward> {
  const tables = Object.keys(heads) as Table[];
  const lines = Object.fromEntries(tables.map((table) => [table, [heads[table]]])) as Record<
    Table,
    string[]
  >;
  plants.forEach((plant, i) => {
    for (const table of tables)
      for (const line of linesOf(plant, table))
        lines[table].push(line.replaceAll("ID", idOf(i)).replaceAll("NAME", nameOf(i)));
  });
  const put = Object.fromEntries(tables.map((table) => [table, `${lines[table].join("\n")}\n`]));
  const inputs = Object.entries(dullStudy({ put })).map(([path, text]) => ({
    path,
    bytes: Buffer.from(text),
  }));
  const day = await dayOfStudy(parseStudy(inputs), { onDay: "2025-05-10" });
  const pages = shiftPages(day);
  const html = {
    "hand-over": aboveFold(pages.handOver()),
    sheet: aboveFold(pages.sheet()),
    day: aboveFold(day.named(dayPage(day.day, {}))),
  };
  const blocks = {
    "hand-over": cut(html["hand-over"], /(?=<section class="band)/, /id="hand-over-([^"]*)"/),
    sheet: cut(html.sheet, /(?=<section class="sheet")/, /id="sheet-([^"]*)"/),
    day: cut(html.day, /(?=<tr role="row" class="animal")/, /class="animal" id="([^"]*)"/),
  };
  return {
    block: (page, id) => {
      const block = blocks[page].get(id) ?? "";
      return plain(page === "sheet" ? block.split("<table")[0]! : block);
    },
    headline: (page) => plain(/<h1[^>]*>[\s\S]*?<\/h1>/.exec(html[page])?.[0] ?? ""),
    others: plain(
      html["hand-over"]
        .split(/(?=<section\b)/)
        .filter((part) => !part.startsWith('<section class="band'))
        .join(" "),
    ),
    rows: (id) =>
      [
        ...(blocks.sheet.get(id) ?? "").matchAll(
          /<t[hd](?: scope="row")?>([^<]*)<\/t[hd]><td>([^<]*)<\/td><td class="number">([^<]*)</g,
        ),
      ].map(([, time, diet, amount]) => plain(`${time} ${amount} ${diet}`)),
  };
}

function linesOf(plant: Plant, table: Table): readonly string[] {
  let lines = plant.put?.[table] ?? calm[table];
  const leaveOut = plant.leaveOut?.[table];
  if (leaveOut !== undefined) lines = lines.filter((line) => !leaveOut.test(line));
  for (const [from, to] of plant.swap?.[table] ?? []) {
    if (lines.filter((line) => line.includes(from)).length !== 1)
      throw new Error(`"${from}" does not stand in one line of ${table}`);
    lines = lines.map((line) => line.replace(from, () => to));
  }
  return [...lines, ...(plant.add?.[table] ?? [])];
}

const aboveFold = (html: string) =>
  html
    .slice(html.indexOf("<body"))
    .replace(/<(script|style|svg)\b[\s\S]*?<\/\1>/g, " ")
    .replace(/<details\b(?![^>]*\bopen\b)[\s\S]*?<\/details>/g, " ");

/** Parts of a page by the id that each names; a part ends where its section or row does. */
function cut(html: string, at: RegExp, name: RegExp): Map<string, string> {
  return new Map(
    html.split(at).flatMap((part) => {
      const id = name.exec(part.slice(0, 300))?.[1];
      const end = part.search(/<\/section>|<\/tr>(?=\s*(?:<tr role|<\/tbody))/);
      return id === undefined ? [] : [[id, end < 0 ? part : part.slice(0, end)] as const];
    }),
  );
}

function plain(html: string): string {
  return html
    .replace(/<[^>]*>/g, " ")
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/\s+/g, " ")
    .trim();
}
