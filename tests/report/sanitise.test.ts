import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sanitise } from "../../src/report/renderers/page/sanitise.js";

/**
 * Attack strings of the kinds listed in the Cross Site Scripting Prevention and
 * Filter Evasion pages of the Open Worldwide Application Security Project
 * (re-written here, from memory).
 */
const attacks = [
  "<script>alert(1)</script>",
  "<SCRIPT SRC=https://example.org/x.js></SCRIPT>",
  '<img src=x onerror="alert(1)">',
  "<svg/onload=alert(1)>",
  "<svg><script>alert(1)</script></svg>",
  "<svg><foreignObject><iframe src=javascript:alert(1)></foreignObject></svg>",
  '<a href="javascript:alert(1)">x</a>',
  '<a href=" java\nscript:alert(1)">x</a>',
  '<a href="&#106;avascript:alert(1)">x</a>',
  '<a href="data:text/html,<script>alert(1)</script>">x</a>',
  '<div style="background:url(https://example.org/x)">x</div>',
  '<div style="width:expression(alert(1))">x</div>',
  "<style>@import 'https://example.org/x.css'</style>",
  "<iframe srcdoc='<script>alert(1)</script>'></iframe>",
  '<svg><use href="https://example.org/x.svg#a"/></svg>',
  '<svg><a xlink:href="javascript:alert(1)"><text>x</text></a></svg>',
  '<rect fill="url(https://example.org/x)"/>',
  "<scr<script>ipt>alert(1)</scr</script>ipt>",
  "<!--><script>alert(1)</script>-->",
  '<math><mtext></mtext><mglyph><style><!--</style><img src onerror="alert(1)">',
  "<textarea><img src=x onerror=alert(1)></textarea>",
  "<form action=https://example.org><input name=a></form>",
  "<meta http-equiv=refresh content='0;url=https://example.org'>",
  "<base href=https://example.org/>",
  "<b onclick=alert(1) onmouseover='alert(2)'>x</b>",
];

const harmful =
  /<(script|style|iframe|img|use|object|embed|form|input|meta|base|link|foreignobject|textarea|math|image)\b|\son\w+\s*=|javascript:|data:text|expression\(|url\(\s*["']?https?:|srcdoc|xlink:/i;

/** Only what stands inside tags can act; text was escaped. */
const tagsOf = (html: string) => (html.match(/<[^>]*>/g) ?? []).join("\n");

describe("sanitise", () => {
  it.each(attacks)("takes the harm out of %s", (attack) => {
    expect(tagsOf(sanitise(attack))).not.toMatch(harmful);
  });

  it("keeps what the library itself writes", () => {
    const table =
      '<table><caption>Masses</caption><thead><tr><th scope="col" class="number">Mass (g)</th></tr></thead><tbody><tr><td>1 &#60; 2</td></tr></tbody></table>';
    expect(sanitise(table)).toBe(table);
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10" viewBox="0 0 10 10"><defs><clipPath id="c0"><rect x="0" y="0" width="5" height="5"></rect></clipPath></defs><g clip-path="url(#c0)"><path d="M0,0L5,5" stroke="#0072b2" stroke-dasharray="7,3"></path></g></svg>';
    expect(sanitise(svg)).toBe(svg);
  });

  it("keeps the ids of two pictures apart, references included", () => {
    const svg = '<svg><clipPath id="c0"></clipPath><g clip-path="url(#c0)"></g></svg>';
    expect(sanitise(svg, "a-")).toBe(
      '<svg><clipPath id="a-c0"></clipPath><g clip-path="url(#a-c0)"></g></svg>',
    );
  });

  it("closes what was left open and ignores what was never opened", () => {
    expect(sanitise("<b><i>x</b>y</i></p>")).toBe("<b><i>x</i></b>y");
  });

  it("gives harmless, well-formed markup for any text, and the same when repeated", () => {
    const piece = fc.oneof(
      fc.constantFrom(
        ...attacks,
        "<b>",
        "</b>",
        "<svg ",
        "<",
        ">",
        '"',
        "'",
        "&lt;",
        "<!--",
        "-->",
      ),
      fc.string({ maxLength: 12 }),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
        const once = sanitise(pieces.join(""));
        expect(tagsOf(once)).not.toMatch(harmful);
        expect(sanitise(once)).toBe(once);
        const open = (once.match(/<(?!\/)(?!br|col\b|hr)[a-z][^>]*>/gi) ?? []).length;
        expect((once.match(/<\/[a-z][^>]*>/gi) ?? []).length).toBe(open);
      }),
      { seed: 20241125, numRuns: 400 },
    );
  });
});
