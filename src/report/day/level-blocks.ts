import { noticeText } from "../../core/catalogue.js";
import type { AnimalLevel, LevelReason } from "../../flags/levels/level.js";
import { screenWording } from "../../units/format.js";
import { say } from "../section/say.js";
import { type Block, list, text } from "../section/section.js";
import { answeredWords } from "./act-words.js";

/**
 * Where an animal stands, first of all that is said of it: the level, what to do at
 * once, every reason with by when and who has answered it, the veterinarian's standing
 * instruction word for word, and whom to call.
 */
export function levelBlocks(level: AnimalLevel, zone: string): Block[] {
  if (level.reasons.length === 0) return [text(say("level-nothing", { ...level.checks }))];
  const isDanger = level.reasons.some((r) => r.level === "danger");
  return [
    text(say("level-heading", { level: level.level, act: level.act })),
    list(level.reasons.map((r) => reasonLine(r, zone))),
    ...(isDanger && level.call !== null ? [text(say("level-call", { words: level.call }))] : []),
  ];
}

/** One reason in words, as it stands on the pages of the day. */
export function reasonLine(reason: LevelReason, zone: string): string {
  const { answered, standingInstruction, byAt } = reason;
  const isNow = reason.act !== null;
  return [
    noticeText(reason.sentence, screenWording(zone)),
    ...(byAt === null || isNow ? [] : [say("level-by", { at: byAt }, zone)]),
    ...(standingInstruction === null
      ? []
      : [say("level-standing", { words: standingInstruction })]),
    ...(answered === null ? [] : [answeredWords(answered, zone)]),
  ].join(" ");
}
