import { sentenceShape } from "../core/catalogue.js";
import { type Notice, notice } from "../core/notice.js";
import { sentences } from "../core/sentences.js";
import type { SignalKind } from "../flags/animal-day/signal.js";
import { signalClassOf, signalKinds } from "../flags/animal-day/signal-class-of.js";
import { type Level, type LevelWhat, levelOrder } from "../flags/levels/level.js";

/** What a word of the pages means. */
export interface ExplainedWord {
  readonly word: string;
  readonly kind: "level" | "flag" | "reason" | "method" | "sentence";
  /** What it means, with its source. */
  readonly meaning: Notice;
  /** The sentences by which pages say it, as they stand in the catalogue. */
  readonly sentences: readonly { readonly code: string; readonly shape: string }[];
}

/**
 * What a level, a flag, a reason for a level, a method or the code of a notice means,
 * from the catalogue that the pages use; null for a word that is none of them.
 *
 * @example explainWord("eaten below plan")?.meaning.code // "explain-practice"
 */
export function explainWord(written: string): ExplainedWord | null {
  const word = written.trim().toLowerCase();
  const said = (codes: readonly NoticeCode[]) =>
    codes.flatMap((code) => {
      const shape = sentenceShape(code);
      return shape === null ? [] : [{ code, shape }];
    });
  const level = levelOrder.find((each) => each === word);
  if (level !== undefined)
    return { word, kind: "level", meaning: notice(levelMeaning[level], "info"), sentences: [] };
  const flag = signalKinds.find((each) => each === word);
  if (flag !== undefined) {
    const meaning = notice(`explain-${signalClassOf(flag)}`, "info");
    return { word, kind: "flag", meaning, sentences: said(flagSentences[flag] ?? ofSigns) };
  }
  const reason = Object.hasOwn(reasonSentences, word) ? reasonSentences[word as Reason] : undefined;
  if (reason !== undefined)
    return {
      word,
      kind: "reason",
      meaning: notice("explain-reason", "info"),
      sentences: said(reason),
    };
  if (!Object.hasOwn(sentences, word)) return null;
  const isMethod = word.startsWith("method-");
  return {
    word,
    kind: isMethod ? "method" : "sentence",
    meaning: notice(isMethod ? "explain-method" : "explain-sentence", "info"),
    sentences: said([word as NoticeCode]),
  };
}

/** Every word that can be explained, by what it is. */
export function explainableWords(): Readonly<Record<ExplainedWord["kind"], readonly string[]>> {
  const codes = Object.keys(sentences).filter((code) => !code.startsWith("explain-"));
  return {
    level: levelOrder,
    flag: signalKinds,
    reason: Object.keys(reasonSentences),
    method: codes.filter((code) => code.startsWith("method-")),
    sentence: codes.filter((code) => !code.startsWith("method-")),
  };
}

type NoticeCode = keyof typeof sentences;
type Reason = Exclude<LevelWhat, SignalKind>;

const levelMeaning = {
  danger: "explain-danger",
  "second look": "explain-second-look",
  "measure first": "explain-measure-first",
  "not judged": "explain-not-judged",
  "nothing raised": "explain-nothing-raised",
} as const satisfies Readonly<Record<Level, NoticeCode>>;

/** What was seen: one of these, with the sign that was written. */
const ofSigns: readonly NoticeCode[] = ["sign-danger-hold", "sign-danger-call", "sign-look"];

const flagSentences: Readonly<Partial<Record<SignalKind, readonly NoticeCode[]>>> = {
  level: ["flag-level"],
  gain: ["flag-gain"],
  "slowed gain": ["flag-slowed-gain"],
  "surprise average": ["flag-surprise-average"],
  "surprise sum": ["flag-surprise-sum"],
  "loss from peak": ["flag-fall"],
  "too-fast gain": ["flag-gain-too-fast"],
  "acute loss": ["flag-acute-loss", "level-loss", "level-below-floor"],
  loss: ["flag-acute-loss", "level-loss"],
  "no feed": ["flag-feed-gap", "level-no-feed"],
  "missed feed": ["flag-feed-gap", "level-missed-feed-danger"],
  temperature: ["flag-temperature"],
  "no stool": ["flag-no-excretion"],
  "no urine": ["flag-no-excretion", "level-urine-none"],
  "repeated vomit": ["level-vomit-and-regurgitation", ...ofSigns],
  "no gain": ["flag-no-gain"],
  "outside mass band": ["flag-mass-band"],
  "eaten below plan": ["flag-below-plan", "flag-below-plan-building-up"],
  "eaten below habit": ["flag-below-habit", "flag-below-habit-twice"],
  refusals: ["flag-refusals", "flag-refusals-building-up"],
  conversion: ["flag-conversion"],
  "scales disagree": ["flag-scales-disagree"],
  "eaten above plan": ["flag-above-plan"],
  "eaten above limit": ["flag-feed-above-limit"],
  "entry not read": ["sign-unreadable", "sign-doubtful"],
};

const reasonSentences: Readonly<Record<Reason, readonly NoticeCode[]>> = {
  cold: ["level-temperature"],
  hot: ["level-temperature"],
  "feed far above bounds": ["level-feed-above"],
  "fed while nothing by mouth": ["level-fed-while-nil"],
  silence: ["level-silence", "level-silence-danger"],
  "no output written": ["level-no-output"],
  "temperature first": ["level-temperature-first"],
  "temperature trend": ["level-temperature-trend"],
  "temperature in doubt": ["level-temperature-doubted"],
  "weigh first": ["level-weigh-first"],
  "mass in doubt": ["level-mass-doubted"],
  "feed in doubt": ["level-feed-above"],
  "no order": ["level-newcomer"],
  "episode open": ["flag-day-open"],
  "records end": ["level-records-end"],
};
