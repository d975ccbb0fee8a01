import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { renderPng } from "../../src/charts/render-png.js";
import {
  chartMime,
  joinedText,
  type MimeBundle,
  type NotebookFile,
  type NotebookOutput,
} from "../../src/report/renderers/notebook-file.js";
import { notebookTitle } from "../../src/report/renderers/page/notebook-page.js";
import { asIs, type DocPage } from "./page.js";

/** The notebooks of the project by name. */
export function notebookNames(folder: string): string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith(".ipynb"))
    .map((name) => basename(name, ".ipynb"))
    .sort();
}

/** The page that leads to every executed notebook, as a page and as a notebook file. */
export function galleryPage(folder: string): DocPage {
  const rows = notebookNames(folder).map((name) => {
    const notebook = JSON.parse(
      readFileSync(join(folder, `${name}.ipynb`), "utf8"),
    ) as NotebookFile;
    const words = joinedText(notebook.cells[0]?.source).split("\n\n").slice(1, 2).join("");
    return `## ${asIs(notebookTitle(notebook, name))}\n\n${asIs(words)}\n\n[As a page](gallery/${name}.html), with the code folded away; [as a notebook file](gallery/${name}.ipynb), with its pictures inside.`;
  });
  return {
    name: "gallery",
    markdown: `# Gallery: every notebook, executed

Made while this site was built, on the demo study: every animal is invented. In the project's \`notebooks\` folder the same files lie without outputs, so that a change can be read line by line.

${rows.join("\n\n")}`,
  };
}

/**
 * An executed notebook as code hosts show it: each picture as PNG and SVG, without
 * the specification, which they cannot draw and would prefer.
 */
export function galleryCopy(notebook: NotebookFile): NotebookFile {
  const cells = notebook.cells.map((cell) =>
    cell.outputs === undefined ? cell : { ...cell, outputs: cell.outputs.map(withPicture) },
  );
  return { ...notebook, cells };
}

function withPicture(output: NotebookOutput): NotebookOutput {
  if (!("data" in output)) return output;
  const svg = output.data["image/svg+xml"];
  if (svg === undefined) return output;
  const { [chartMime]: _, "application/vnd.vegalite.v5+json": __, ...rest } = output.data;
  const png = renderPng(joinedText(svg as string | string[]));
  const data: MimeBundle = { ...rest, "image/png": Buffer.from(png.bytes).toString("base64") };
  return { ...output, data };
}
