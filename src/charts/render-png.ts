import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { isInShippedFont } from "./measure-text.js";
import { palette } from "./palette.js";

/**
 * Draws SVG text as a PNG with the shipped font, for documents that take no
 * SVG. `scale` 2 prints sharply. Returns the bytes and the size in pixels.
 *
 * The same picture on every machine, with one exception: where a text holds
 * characters that the shipped font lacks (Japanese, Arabic, ...), those come
 * from the fonts of the machine, because an empty box tells nobody a name.
 *
 * @example renderPng('<svg width="20" height="10" xmlns="http://www.w3.org/2000/svg"/>').width // 40
 */
export function renderPng(
  svg: string,
  scale = 2,
): { readonly bytes: Uint8Array; readonly width: number; readonly height: number } {
  const { Resvg } = createRequire(import.meta.url)("@resvg/resvg-js") as ResvgPackage;
  const image = new Resvg(forRenderer(svg), {
    fitTo: { mode: "zoom", value: scale },
    background: palette.paper,
    font: {
      fontFiles: ["Inter-Regular.otf", "Inter-SemiBold.otf"].map(fontFile),
      loadSystemFonts: !isInShippedFont(svg),
      defaultFontFamily: "Inter",
    },
  }).render();
  return { bytes: new Uint8Array(image.asPng()), width: image.width, height: image.height };
}

/**
 * The same picture in the words this renderer understands: it finds the
 * semi-bold face by the family name in the file only, and it leaves out
 * see-through areas that reach far beyond their clipping when their opacity is
 * that of a group.
 */
function forRenderer(svg: string): string {
  return svg
    .replace(/<text\b[^>]*font-weight="(?:600|700|bold)"[^>]*>/g, (tag) =>
      tag.replace(/font-family="/, `font-family="${semiBoldFamily}, `),
    )
    .replace(/<(?:path|rect|line|text)\b[^>]*>/g, (tag) =>
      /(?:fill|stroke)-opacity="/.test(tag)
        ? tag
        : tag.replace(/ opacity="([\d.]+)"/, ' fill-opacity="$1" stroke-opacity="$1"'),
    );
}

const semiBoldFamily = "Inter Semi Bold";

/** The fonts lie beside the sources; `dist/charts` and `src/charts` reach them alike. */
export function fontFile(name: string): string {
  return fileURLToPath(new URL(`../../src/charts/fonts/${name}`, import.meta.url));
}

interface ResvgPackage {
  readonly Resvg: new (
    svg: string,
    options: object,
  ) => { render(): { asPng(): Uint8Array; readonly width: number; readonly height: number } };
}
