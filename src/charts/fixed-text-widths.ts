import { measureText } from "./measure-text.js";

/**
 * The same picture with the width of every text written into it, so that a reader whose
 * machine draws it in another font (a notebook brings none along) sees each text as wide as the
 * picture has room for: squeezed a little, never cut off.
 *
 * @example fixedTextWidths('<text font-size="12px">Mass (g)</text>') // …textLength="50.5" lengthAdjust="spacingAndGlyphs"…
 */
export function fixedTextWidths(svg: string): string {
  return svg.replace(textElement, (whole, attributes: string, written: string) => {
    const size = Number(/font-size="([\d.]+)px"/.exec(attributes)?.[1]);
    const width = measureText(
      plain(written),
      size,
      /font-weight="(?:[6-9]00|bold)"/.test(attributes),
    );
    if (!(width > 0)) return whole;
    return `<text${attributes} textLength="${width.toFixed(1)}" lengthAdjust="spacingAndGlyphs">${written}</text>`;
  });
}

/** A text of one line: those of several hold an element for each. */
const textElement = /<text\b((?:\s+[\w:-]+="[^"]*")*)>([^<]+)<\/text>/g;

/** What the picture library writes in another form. */
const named: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">" };

const plain = (written: string) =>
  written.replace(/&(amp|lt|gt);/g, (_, name: string) => named[name]!);
