import type { Amount, Item } from "./item.js";
import { lexiconOf } from "./lexicon.js";
import type { Finding, SignState } from "./sign.js";
import type { SignKind } from "./sign-kind.js";
import { wordItems } from "./word-items.js";

/** What the words of a line say. */
export interface WordReading {
  readonly state: SignState;
  readonly sure: boolean;
  readonly count: number | null;
  readonly amount: Amount | null;
  readonly findings: readonly Finding[];
}

/** More events than this in one line are rather grams or a score. */
const mostEvents = 6;

/** What a line claims, piece by piece added up. */
interface Claims {
  there: boolean;
  none: boolean;
  notLooked: boolean;
  well: boolean;
  unread: boolean;
  doubt: boolean;
  count: number | null;
  amount: Amount | null;
  readonly findings: Set<Finding>;
}

/**
 * Reads a line in words. Where it says both that there was some and that there was
 * none, it counts as there, in doubt; "none" beside words that are not known, or
 * with a question mark, cannot be read: a doubt never lowers a level.
 */
export function readWords(line: string, kind: SignKind): WordReading {
  const claims = claimsOf(wordItems(line, lexiconOf(kind)), kind);
  const { state, sure } =
    kind.holds === "state" ? stateOf(claims, kind) : eventOf(claims, line.trim() === "");
  const gone = state === "none" || state === "not looked";
  return {
    state,
    sure,
    count: gone ? null : claims.count,
    amount: gone ? null : claims.amount,
    findings: [...claims.findings].sort(),
  };
}

function claimsOf(items: readonly Item[], kind: SignKind): Claims {
  const claims: Claims = {
    there: false,
    none: false,
    notLooked: false,
    well: false,
    unread: false,
    doubt: false,
    count: null,
    amount: null,
    findings: new Set(),
  };
  for (const item of items) {
    if (item.is === "unknown") claims.unread = true;
    else if (item.is === "tally") addTally(claims, item.count, item.amount);
    else if (item.is === "bare number") addBare(claims, item.value, kind);
    else if (item.is === "percent") addPercent(claims, item.value, kind);
    else if (item.is === "phrase") addPhrase(claims, item, kind);
  }
  return claims;
}

function addTally(claims: Claims, count: number | null, amount: Amount | null): void {
  if (count === 0 || amount?.value === 0) claims.none = true;
  else claims.there = true;
  if (count !== null && count > 0) claims.count = (claims.count ?? 0) + count;
  if (amount !== null && amount.value > 0)
    claims.amount =
      claims.amount?.unit === amount.unit
        ? { value: claims.amount.value + amount.value, unit: amount.unit }
        : (claims.amount ?? amount);
}

function addPercent(claims: Claims, value: number, kind: SignKind): void {
  const step = kind.percent?.filter((s) => value >= s.from).at(-1);
  if (step === undefined) claims[value === 0 ? "none" : "there"] = true;
  else if (step.finding === null) claims.well = true;
  else claims.findings.add(step.finding);
}

function addBare(claims: Claims, value: number, kind: SignKind): void {
  if (kind.holds === "state") {
    if (value === 0) claims.none = true;
    else claims.unread = true;
    return;
  }
  if (value === 0) claims.none = true;
  else {
    claims.there = true;
    if (Number.isInteger(value) && value <= mostEvents) claims.count = (claims.count ?? 0) + value;
    else {
      // A number of times, of grams, or a score: nobody says; the worse one is counted.
      claims.count = Math.ceil(value);
      if (kind.holds === "event") claims.doubt = true;
    }
  }
}

function addPhrase(
  claims: Claims,
  { meaning, denied, weakly }: Extract<Item, { is: "phrase" }>,
  kind: SignKind,
): void {
  switch (meaning.says) {
    case "none":
      claims.none = true;
      return;
    case "not looked":
      claims.notLooked = true;
      return;
    case "doubt":
      claims.doubt = true;
      return;
    case "unread":
      claims.unread = true;
      return;
    case "present":
      if (denied) claims.none = true;
      else claims.there = true;
      return;
    case "amount":
      if (denied) claims.none = true;
      else claims.there = true;
      return;
    case "count":
      claims.there = true;
      claims.count = (claims.count ?? 0) + meaning.count;
      return;
    case "itself":
      if (weakly) claims.doubt = true;
      if (meaning.kind === kind.kind) {
        if (denied) claims.none = true;
        else claims.there = true;
      } else if (!denied && isFindingKind(meaning.kind)) {
        claims.findings.add(meaning.kind);
        // Blood came with something.
        if (meaning.kind === "blood" && kind.holds !== "state") claims.there = true;
      } else if (denied) claims.well = true;
      return;
    case "finding":
      if (denied) {
        claims.well ||= meaning.own;
        return;
      }
      if (weakly) claims.doubt = true;
      claims.findings.add(meaning.finding);
      if (kind.holds === "event" || (kind.holds === "excretion" && meaning.own && !meaning.unseen))
        claims.there = true;
      return;
    case "well":
      if (denied || weakly) {
        if (meaning.denied !== null) claims.findings.add(meaning.denied);
        if (kind.holds === "excretion" && meaning.own) claims.there = true;
      } else {
        claims.well ||= meaning.own;
        if (kind.holds === "excretion" && meaning.own) claims.there = true;
      }
      return;
  }
}

const findingKinds = ["vomit", "regurgitation", "bloat", "blood", "convulsion"] as const;
const isFindingKind = (kind: string): kind is (typeof findingKinds)[number] =>
  (findingKinds as readonly string[]).includes(kind);

function eventOf(claims: Claims, blank: boolean): { state: SignState; sure: boolean } {
  const { there, none, notLooked, unread, doubt } = claims;
  // A line with nothing in it says that the thing its kind names was seen then.
  if (blank) return { state: "present", sure: true };
  if (there) return { state: "present", sure: !doubt && !none };
  if (none) {
    const readable = !unread && !doubt && !notLooked;
    return { state: readable ? "none" : "unclear", sure: readable };
  }
  if (notLooked) return { state: "not looked", sure: true };
  return { state: "unclear", sure: false };
}

function stateOf(claims: Claims, kind: SignKind): { state: SignState; sure: boolean } {
  const { none, notLooked, well, unread, doubt, findings, there } = claims;
  if (none && !well && kind.noneMeans !== undefined) findings.add(kind.noneMeans);
  if (findings.size > 0) return { state: "present", sure: !doubt };
  if (notLooked && !well) return { state: "not looked", sure: true };
  const fine = well && !none && !unread && !doubt && !there && !notLooked;
  return { state: fine ? "none" : "unclear", sure: fine };
}
