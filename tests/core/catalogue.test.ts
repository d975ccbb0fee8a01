import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import type { Notice } from "../../src/core/notice.js";
import { sentences } from "../../src/core/sentences.js";

const src = fileURLToPath(new URL("../../src", import.meta.url));
const folder = join(src, "core/messages");

describe("the catalogue of messages", () => {
  it("has each code in one room only", async () => {
    const seen = new Map<string, string>();
    const twice: string[] = [];
    for (const file of readdirSync(folder)) {
      const module = (await import(join(folder, file))) as Record<string, Record<string, unknown>>;
      for (const messages of Object.values(module)) {
        for (const code of Object.keys(messages)) {
          if (seen.has(code)) twice.push(`${code}: ${seen.get(code)} and ${file}`);
          seen.set(code, file);
        }
      }
    }
    expect(twice).toEqual([]);
    expect([...seen.keys()].sort()).toEqual(Object.keys(sentences).sort());
  });

  it("shows a missing parameter as a question mark and never throws", () => {
    const broken = (Object.keys(sentences) as Notice["code"][]).filter((code) => {
      // As from a file that another version wrote: what the sentence needs is not there.
      const text = noticeText({ code, level: "info", parameters: {} });
      return typeof text !== "string" || text.trim() === "" || /undefined|NaN|\[object/.test(text);
    });
    expect(broken).toEqual([]);
  });

  it("agrees with one: one weighing is, has, was", () => {
    const ones = new Proxy<Record<string, number>>(
      {},
      {
        get: () => 1,
        getOwnPropertyDescriptor: () => ({ value: 1, configurable: true, enumerable: true }),
      },
    );
    const wrong = (Object.keys(sentences) as Notice["code"][]).flatMap((code) => {
      const said = sayable({ code, level: "info", parameters: ones });
      const found = pluralOfOne.exec(said);
      return found === null ? [] : [`${code}: ${found[0]}`];
    });
    expect(wrong).toEqual([]);
  });

  it("has no sentence that nothing in the source can say", () => {
    const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter(
      (name) => name.endsWith(".ts") && !name.includes("messages"),
    );
    const text = files.map((name) => withoutComments(join(src, name))).join("\n");
    // A code is written out, or put together in a template of which a part is a variable.
    const written = new Set([...text.matchAll(/"([a-z0-9-]+)"/g)].map((m) => m[1]!));
    const templates = [...text.matchAll(/`([a-z]+-[a-z0-9-]*\$\{[^`]*)`/g)].map(
      (m) => new RegExp(`^${m[1]!.replace(/\$\{[^}]*\}/g, "[a-z-]+")}$`),
    );
    const unsaid = Object.keys(sentences).filter(
      (code) => !written.has(code) && !templates.some((t) => t.test(code)),
    );
    expect(unsaid).toEqual([]);
  });
});

/** One thing, and within the next words a verb of several. */
const pluralOfOne =
  /\b1 (?:weighing|feed|animal|row|cell|line|day|curve|check|name|blank cell|ditto mark|zero byte)s?(?: of 1 [a-z]+)?(?: (?:on|in|of|with|from|above)(?: [^ .;,:()]+){1,4})? (?:are|have|were|stand|look|lie|name)\b/;

/** The sentence; nothing where a list was needed and a number came. */
function sayable(notice: Notice): string {
  try {
    return noticeText(notice);
  } catch {
    return "";
  }
}

function withoutComments(path: string): string {
  return readFileSync(path, "utf8").replace(/\/\*[\s\S]*?\*\//g, "");
}
