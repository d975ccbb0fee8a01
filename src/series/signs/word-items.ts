import type { Item } from "./item.js";
import type { Lexicon } from "./lexicon.js";
import { plainWords } from "./plain-words.js";
import { readTally } from "./read-tally.js";
import { type Token, tokensOf } from "./tokens.js";

/**
 * Reads a line piece by piece and works out what its denials deny: the next thing
 * said, and what is joined to it by "or" ("no vomit, regurgitation or bloat"), or,
 * where nothing follows, the thing said just before ("blood: none"). "And" ends a
 * denial: what follows it counts as there.
 */
export function wordItems(line: string, lexicon: Lexicon): Item[] {
  const items = itemsOf(tokensOf(line), lexicon);
  const isDenial = (item: Item | undefined): item is Phrase =>
    item?.is === "phrase" && (item.meaning.says === "deny" || item.meaning.says === "deny weakly");
  items.forEach((item, i) => {
    if (!isDenial(item)) return;
    const weakly = item.meaning.says === "deny weakly";
    let at = next(items, i + 1);
    const first = items[at];
    if (first?.is === "phrase" && first.meaning.says === "present") {
      // "not seen": there was none.
      first.denied = true;
      denyBefore(items, i);
      return;
    }
    if (!isClaim(first)) {
      // "no idea" is a no; "not tested" denies a word that is not known.
      if (first?.is !== "unknown" || item.word === "no") standAlone(items, i);
      return;
    }
    deny(first, weakly);
    overlookSeen(items, at);
    for (;;) {
      const joint = joined(items, at);
      if (joint === null) return;
      deny(items[joint] as Phrase, weakly);
      overlookSeen(items, joint);
      at = joint;
    }
  });
  items.forEach((item, i) => {
    if (item.is === "phrase" && item.meaning.says === "none") denyBefore(items, i);
  });
  return items;
}

const looking: ReadonlySet<string> = new Set(plainWords.looking);

type Phrase = Extract<Item, { is: "phrase" }>;

function itemsOf(tokens: readonly Token[], lexicon: Lexicon): Item[] {
  const items: Item[] = [];
  for (let i = 0; i < tokens.length; ) {
    const token = tokens[i]!;
    const tally = readTally(tokens, i);
    if (tally !== null) {
      // "none, checked 3x": the number counts the looks.
      if (!looking.has(tokens[i - 1]?.text ?? "")) items.push(...tally.items);
      i += tally.length;
      continue;
    }
    const found = (lexicon.get(token.text) ?? []).find((p) =>
      p.words.every((word, k) => tokens[i + k]?.text === word),
    );
    if (found !== undefined) {
      items.push(
        found.words.length === 1 && found.words[0] === "nor"
          ? { is: "or" }
          : {
              is: "phrase",
              word: token.text,
              meaning: found.meaning,
              denied: false,
              weakly: false,
            },
      );
      i += found.words.length;
      continue;
    }
    if (token.text === "or") items.push({ is: "or" });
    else if (token.is === "stop" || token.text === "but")
      items.push({ is: "stop", comma: token.text === "," });
    else if (token.is === "word" || token.is === "number")
      items.push({ is: "unknown", word: token.text });
    i++;
  }
  return items;
}

function isClaim(item: Item | undefined): item is Phrase {
  if (item?.is !== "phrase") return false;
  const { says } = item.meaning;
  return says === "finding" || says === "well" || says === "itself" || says === "amount";
}

function deny(item: Phrase, weakly: boolean): void {
  if (weakly) item.weakly = true;
  else item.denied = true;
}

const isFiller = (item: Item | undefined) =>
  item?.is === "phrase" && item.meaning.says === "filler";

/** The next piece that says something. */
function next(items: readonly Item[], from: number): number {
  let at = from;
  while (isFiller(items[at])) at++;
  return at;
}

/** What is joined to a denied piece by "or", over commas too where an "or" ends the list. */
function joined(items: readonly Item[], from: number): number | null {
  let at = next(items, from + 1);
  let comma = false;
  const first = items[at];
  if (first?.is === "stop" && first.comma) {
    comma = true;
    at = next(items, at + 1);
  }
  if (items[at]?.is === "or") {
    const after = next(items, at + 1);
    return isClaim(items[after]) ? after : null;
  }
  if (!comma || !isClaim(items[at])) return null;
  return joined(items, at) === null ? null : at;
}

/** "no vomiting seen": the seeing is part of what is denied. */
function overlookSeen(items: Item[], denied: number): void {
  const at = next(items, denied + 1);
  const item = items[at];
  if (item?.is === "phrase" && item.meaning.says === "present")
    items[at] = { ...item, meaning: { says: "filler" } };
}

/** A denial after which nothing is claimed: it denies what stands before it, or is a plain "none". */
function standAlone(items: Item[], at: number): void {
  items[at] = {
    is: "phrase",
    word: "none",
    meaning: { says: "none" },
    denied: false,
    weakly: false,
  };
}

/** "blood: none": the none belongs to the blood, and says nothing of the line's own kind. */
function denyBefore(items: Item[], at: number): void {
  let before = at - 1;
  while (isFiller(items[before])) before--;
  const item = items[before];
  if (!isClaim(item) || item.meaning.says === "amount" || item.denied) return;
  item.denied = true;
  const none = items[at]!;
  if (none.is === "phrase") items[at] = { ...none, meaning: { says: "filler" } };
}
