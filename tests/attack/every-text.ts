import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { inflateSync } from "node:zlib";
import { strFromU8, unzipSync } from "fflate";

/**
 * Every text in a folder: names of files and folders, contents, archives unpacked,
 * documents as their streams and as the letters they show.
 *
 * @example textsOf("out").some(([, text]) => text.includes("somebody"))
 */
export function textsOf(folder: string): [where: string, text: string][] {
  return readdirSync(folder, { recursive: true, withFileTypes: true }).flatMap((entry) => {
    const path = join(entry.parentPath, entry.name);
    const name = relative(folder, path);
    if (!entry.isFile()) return [[name, name] as [string, string]];
    const bytes = new Uint8Array(readFileSync(path));
    const inside: [string, string][] = /\.(docx|xlsx|zip)$/.test(name)
      ? Object.entries(unzipSync(bytes)).map(([part, data]) => [`${name}/${part}`, strFromU8(data)])
      : /\.pdf$/.test(name)
        ? [[name, textsOfPdf(Buffer.from(bytes))]]
        : [[name, strFromU8(bytes)]];
    return [[name, name] as [string, string], ...inside];
  });
}

/**
 * What a PDF says: its bytes, its streams inflated, its strings in UTF-16 (properties,
 * bookmarks), and its pages as letters. Fonts of a page number their letters anew and
 * say in a ToUnicode map which is which (ISO 32000-1, 9.10.3); every run of text is
 * read by every map, so that no font has to be found.
 */
export function textsOfPdf(bytes: Buffer): string {
  const raw = bytes.toString("latin1");
  const streams: string[] = [];
  for (const { 0: begin, index } of raw.matchAll(/stream\r?\n/g)) {
    try {
      streams.push(inflateSync(bytes.subarray(index + begin.length)).toString("latin1"));
    } catch {
      // No compressed stream begins here.
    }
  }
  const maps = streams.filter((text) => text.includes("begincmap")).map(lettersOf);
  const runs = streams.flatMap((text) =>
    [...text.matchAll(/\[([^\]]*)\]\s*TJ|(<[0-9A-Fa-f\s]+>)\s*Tj/g)].map((run) =>
      [...(run[1] ?? run[2]!).matchAll(/<([0-9A-Fa-f\s]+)>/g)]
        .map((part) => part[1]!.replace(/\s/g, ""))
        .join(""),
    ),
  );
  const pages = maps.map((letters) =>
    runs
      .map((run) =>
        (run.match(/.{4}/g) ?? []).map((code) => letters.get(code.toLowerCase()) ?? "").join(""),
      )
      .join(""),
  );
  const wide = raw.replaceAll("\0", "");
  return [raw, wide, ...streams, ...pages].join("\n");
}

/** Letters by their number in a font, from its ToUnicode map. */
function lettersOf(map: string): Map<string, string> {
  const letters = new Map<string, string>();
  const add = (code: number, letter: number) =>
    letters.set(code.toString(16).padStart(4, "0"), String.fromCodePoint(letter));
  const numbers = (line: string) =>
    [...line.matchAll(/<([0-9A-Fa-f]+)>/g)].map((m) => Number.parseInt(m[1]!, 16));
  for (const [, lines] of map.matchAll(/beginbfchar([\s\S]*?)endbfchar/g))
    for (const line of lines!.split("\n")) {
      const [code, letter] = numbers(line);
      if (code !== undefined && letter !== undefined && letter < 0x110000) add(code, letter);
    }
  for (const [, lines] of map.matchAll(/beginbfrange([\s\S]*?)endbfrange/g))
    for (const line of lines!.split("\n")) {
      const [from, to, letter] = numbers(line);
      if (from === undefined || to === undefined || letter === undefined) continue;
      for (let code = from; code <= to; code++) add(code, letter + code - from);
    }
  return letters;
}
