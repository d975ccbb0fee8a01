import { describe, expect, it } from "vitest";
import { galleryCopy } from "../../docs/build/gallery.js";
import { chartMime, type NotebookFile } from "../../src/report/renderers/notebook-file.js";

const svg =
  '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><rect width="40" height="20" fill="#1d5b75"/></svg>';
const executed: NotebookFile = {
  nbformat: 4,
  nbformat_minor: 5,
  metadata: {},
  cells: [
    { cell_type: "markdown", metadata: {}, source: "# A page" },
    {
      cell_type: "code",
      metadata: {},
      source: "g.show(chart)",
      outputs: [
        {
          output_type: "display_data",
          metadata: {},
          data: {
            [chartMime]: { kind: "chart" },
            "application/vnd.vegalite.v5+json": {},
            "image/svg+xml": [svg],
            "text/plain": "a picture",
          },
        },
        { output_type: "stream", name: "stdout", text: ["words\n"] },
      ],
    },
  ],
};

describe("a notebook of the gallery", () => {
  it("carries each picture as PNG and SVG, and no specification that a code host would prefer", () => {
    const [, cell] = galleryCopy(executed).cells;
    const [picture, words] = cell!.outputs!;
    const data = "data" in picture! ? picture.data : {};
    expect(Object.keys(data).sort()).toEqual(["image/png", "image/svg+xml", "text/plain"]);
    const png = Buffer.from(String(data["image/png"]), "base64");
    expect([...png.subarray(0, 4)]).toEqual([0x89, 0x50, 0x4e, 0x47]);
    // Width and height of the header (PNG, 11.2.2): drawn at twice the size.
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([80, 40]);
    expect(words).toEqual(executed.cells[1]!.outputs![1]);
  });
});
