import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { sentenceShape } from "../../src/core/catalogue.js";
import { sentences } from "../../src/core/sentences.js";
import { unnamedIntake } from "./intake-words.js";
import { literalsOf } from "./literals-of.js";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** Pieces that are joined to a word that says which, or are of no animal. */
const joined: ReadonlySet<string> = new Set([
  "X of body mass", // after "eaten 820 g" in the reading of a picture
  ", X of body mass a day", // after "Eaten, mean of ..."
  "X % of body mass", // of a feed in doubt, in a sentence that ends in "were eaten"
  "Energy", // what a diet holds, in the table of diets
]);

/** A code, the name of a property or a file: nothing that a reader reads. */
const isCode = (text: string) => /^[a-z][A-Za-z0-9-]*$/.test(text);

/**
 * DESIGN: each question of intake says whether it is of what was eaten or of what was
 * kept. The words of drawn pages are held to the same in `words-of-pages`.
 */
describe("whatever speaks of intake says eaten or kept", () => {
  it("in every sentence of the catalogue", () => {
    const unnamed = Object.keys(sentences).flatMap((code) => {
      const text = unnamedIntake(sentenceShape(code) ?? "");
      return text === null ? [] : [`${code}: ${text}`];
    });
    expect(unnamed).toEqual([]);
  });

  it.each(["core/messages", "charts", "report", "notebook", "publish", "command-line"])(
    "in every heading, caption, column and branch of a sentence of %s",
    (room) => {
      const files = readdirSync(join(root, "src", room), { recursive: true, encoding: "utf8" });
      const texts = files
        .filter((name) => name.endsWith(".ts"))
        .flatMap((name) =>
          literalsOf(join(root, "src", room, name)).map((text) => ({ name, text })),
        );
      expect(texts.length).toBeGreaterThan(10);
      const unnamed = texts.filter(
        ({ text }) => !isCode(text) && !joined.has(text) && unnamedIntake(text) !== null,
      );
      expect(unnamed).toEqual([]);
    },
  );

  it("in every paragraph of a notebook", () => {
    const folder = join(root, "notebooks");
    const cells = readdirSync(folder)
      .filter((name) => name.endsWith(".ipynb"))
      .flatMap((name) => {
        const { cells } = JSON.parse(readFileSync(join(folder, name), "utf8")) as {
          cells: { cell_type: string; source: string | string[] }[];
        };
        return cells
          .filter((cell) => cell.cell_type === "markdown")
          .flatMap((cell) =>
            [cell.source]
              .flat()
              .join("")
              .split(/\n\n|\n[-*#|]/),
          )
          .map((text) => ({ name, text }));
      });
    expect(cells.length).toBeGreaterThan(10);
    expect(cells.filter(({ text }) => unnamedIntake(text) !== null)).toEqual([]);
  });

  it("also where the word is new", () => {
    expect(unnamedIntake("Mean intake of 7 days")).not.toBeNull();
    expect(unnamedIntake("Energy (kcal/d)")).not.toBeNull();
    expect(unnamedIntake("Feed per gain, as fed")).not.toBeNull();
    expect(unnamedIntake("It takes in less than the others")).not.toBeNull();
    expect(unnamedIntake("Energy kept per gain")).toBeNull();
  });
});
