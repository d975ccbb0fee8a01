import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

/**
 * Draws SVG text as a PNG with the shipped font, for documents that take no
 * SVG. `scale` 2 prints sharply. Returns the bytes and the size in pixels.
 */
export function renderPng(
  svg: string,
  scale = 2,
): { readonly bytes: Uint8Array; readonly width: number; readonly height: number } {
  const { Resvg } = createRequire(import.meta.url)("@resvg/resvg-js") as ResvgPackage;
  const image = new Resvg(svg, {
    fitTo: { mode: "zoom", value: scale },
    background: "#ffffff",
    font: {
      fontFiles: ["Inter-Regular.otf", "Inter-SemiBold.otf"].map(fontFile),
      // Nothing of the machine: the same picture everywhere.
      loadSystemFonts: false,
      defaultFontFamily: "Inter",
    },
  }).render();
  return { bytes: new Uint8Array(image.asPng()), width: image.width, height: image.height };
}

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
