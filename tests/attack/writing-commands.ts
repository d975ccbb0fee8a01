import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { engineIsHere, makeStudy } from "../archive/small-study.js";
import { csvStudy } from "./planted-study.js";
import { run } from "./run-killed.js";

const notebooks = fileURLToPath(new URL("../command-line/notebooks", import.meta.url));

/** A command that writes, the line that makes it write into a folder, and what must be there before. */
export interface WritingCommand {
  readonly name: string;
  /** Where another run would hold the lock, relative to the folder. */
  readonly holds: string;
  words(folder: string): string[];
  /** Makes what is written into, where that must be there. */
  prepare(folder: string): Promise<void>;
}

/** Commands that write nothing but what no user names; who looks for gaps knows them. */
export const writeNothing = [
  "notebooks",
  "kernel-path",
  "doctor",
  "watch",
  "explain",
  "archive check",
  "archive list",
  "cache show",
] as const;

/** A study whose table of weighings is called by another heading. */
function unmapped(folder: string): void {
  mkdirSync(folder, { recursive: true });
  const settings = { title: "Mapped", zone: "UTC", species: ["sea otter"] };
  writeFileSync(join(folder, "study.json"), JSON.stringify(settings));
  writeFileSync(join(folder, "animals.csv"), "animal_id,species\nA1,sea otter\n");
  const rows = Array.from({ length: 12 }, (_, d) => `A1,2025-03-${d + 10} 06:00,${2000 + 20 * d}`);
  writeFileSync(join(folder, "weighings.csv"), `Tier,at,Gewicht (g)\n${rows.join("\n")}\n`);
}

const nothing = async () => {};

/**
 * Every command that writes, `work` being where studies and archives are made for it.
 * Archives need their engine: without it they are left out.
 */
export function writingCommands(work: string): WritingCommand[] {
  const study = makeStudy(join(work, "study"));
  mkdirSync(join(work, "eight"), { recursive: true });
  const eight = csvStudy(join(work, "eight"));
  const page = (name: string) => (folder: string) => [
    ...[name, study, "--out", join(folder, `${name}.html`)],
  ];
  const plain: WritingCommand[] = [
    { name: "day", holds: ".", words: page("day"), prepare: nothing },
    { name: "hand-over", holds: ".", words: page("hand-over"), prepare: nothing },
    {
      name: "check",
      holds: ".",
      words: (folder) => ["check", study, "--out", folder],
      prepare: nothing,
    },
    {
      name: "check --save-mapping",
      holds: ".",
      words: (folder) => ["check", folder, "--no-write", "--save-mapping"],
      prepare: async (folder) => unmapped(folder),
    },
    {
      name: "report",
      holds: ".",
      words: (folder) => ["report", study, "--out", folder, "--date", "2025-04-01"],
      prepare: nothing,
    },
    {
      name: "run-notebooks",
      holds: ".",
      words: (folder) => ["run-notebooks", "clean", "--notebooks", notebooks, "--out", folder],
      prepare: nothing,
    },
    {
      name: "new",
      holds: "fresh.being-made",
      words: (folder) => ["new", join(folder, "fresh"), "--zone", "UTC"],
      prepare: nothing,
    },
    {
      name: "prior",
      holds: ".",
      words: (folder) => [
        ...["prior", eight, "--species", "sea otter", "--out", join(folder, "prior.json")],
      ],
      prepare: nothing,
    },
  ];
  if (!engineIsHere) return plain;
  return [...plain, ...archiveCommands(work, study)];
}

function archiveCommands(work: string, study: string): WritingCommand[] {
  const add = (to: string, from: string, facility: string, name: string) =>
    run(work, ["archive", "add", from, "--to", to, "--facility", facility, "--name", name]);
  const six = async (to: string) => {
    for (const [facility, letters] of [
      ["oak", "ABC"],
      ["mill", "DEF"],
    ] as const)
      for (const letter of letters)
        await add(
          to,
          makeStudy(join(work, `six-${letter}`), { letter, days: 31 }),
          facility,
          letter,
        );
  };
  return [
    {
      name: "archive add",
      holds: ".",
      words: (folder) => ["archive", "add", study, "--to", folder, "--facility", "oak"],
      prepare: nothing,
    },
    {
      name: "archive remove",
      holds: ".",
      words: (folder) => ["archive", "remove", folder, "--facility", "oak", "--all"],
      prepare: async (folder) => {
        await add(folder, study, "oak", "one");
      },
    },
    {
      name: "pool",
      holds: ".",
      words: (folder) => [
        ...["pool", join(work, "pooled"), "--species", "sea otter", "--ages", "21-42"],
        ...["--out", join(folder, "prior.json")],
      ],
      prepare: async () => six(join(work, "pooled")),
    },
  ];
}
