/** The parts of the site and their pages in reading order; a page not named here stands at the end of "How to". */
export const contents: readonly {
  readonly title: string;
  readonly pages: readonly string[];
}[] = [
  {
    title: "Tours",
    pages: ["index", "tour-keeper", "tour-vet", "tour-curator", "tour-researcher", "gallery"],
  },
  {
    title: "How to",
    pages: [
      "own-records",
      "own-species",
      "priors",
      "journal-report",
      "add-a-curve",
      "notebooks-in-editors",
      "archive",
    ],
  },
  {
    title: "Explained",
    pages: ["expected-band", "false-flag", "wide-intervals"],
  },
  {
    title: "Reference",
    pages: [
      "columns",
      "settings",
      "spellings",
      "notices",
      "limits",
      "species",
      "curves",
      "commands",
      "api",
    ],
  },
  { title: "How far to trust it", pages: ["validation", "checked-against"] },
];

const placed = contents.map((part) => part.pages);
const howTo = contents.findIndex((part) => part.title === "How to");

/** Which part a page belongs to, by its place in `contents`; pages of the API stand under it. */
export function partOf(name: string): number {
  if (name.startsWith("api-")) return placed.findIndex((pages) => pages.includes("api"));
  const at = placed.findIndex((pages) => pages.includes(name));
  return at < 0 ? howTo : at;
}

/** Pages in reading order. */
export function inOrder(names: readonly string[]): string[] {
  const place = (name: string) => {
    const part = partOf(name);
    const at = placed[part]!.indexOf(name.startsWith("api-") ? "api" : name);
    return part * 1000 + (at < 0 ? 500 : at);
  };
  return [...names].sort((a, b) => place(a) - place(b) || (a < b ? -1 : 1));
}
