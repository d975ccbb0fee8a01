import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

/**
 * The script of an interactive page, with the digest its content policy lets
 * through: the chart runtime, its interpreter (so that nothing is turned into
 * code), and a few lines that put a button under each picture. Without the
 * script, or before the button is pressed, the static picture stands.
 */
export function pageScript(): { readonly text: string; readonly sha256Base64: string } {
  const text = [
    packageFile("vega", "build/vega.min.js"),
    packageFile("vega-interpreter", "build/vega-interpreter.min.js"),
    buttons,
  ]
    .join(";\n")
    // A closing tag inside a text would end the script.
    .replaceAll("</script", "<\\/script");
  return { text, sha256Base64: createHash("sha256").update(text).digest("base64") };
}

function packageFile(name: string, file: string): string {
  const folder = dirname(createRequire(import.meta.url).resolve(`${name}/package.json`));
  return readFileSync(join(folder, file), "utf8").replace(/\n\/\/# sourceMappingURL=.*\s*$/, "\n");
}

const buttons = `
for (const figure of document.querySelectorAll("figure[data-chart]")) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "screen-only";
  button.textContent = "Show values at the pointer";
  figure.querySelector("figcaption").after(button);
  button.addEventListener("click", () => {
    const spec = JSON.parse(figure.querySelector('script[type="application/json"]').textContent);
    const box = figure.querySelector(".picture");
    const label = box.querySelector("svg").getAttribute("aria-label");
    box.textContent = "";
    new vega.View(vega.parse(spec, undefined, { ast: true }), {
      expr: vega.expressionInterpreter, renderer: "svg", container: box, hover: true,
    }).runAsync().then(() => {
      const svg = box.querySelector("svg");
      svg.setAttribute("role", "img");
      svg.setAttribute("aria-label", label);
      button.remove();
    });
  });
}`;
