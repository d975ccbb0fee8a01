import MarkdownIt from "markdown-it";
import { escapeHtml } from "../../src/report/renderers/page/escape.js";
import { anchorOf } from "../../src/report/renderers/page/section-html.js";

/** What the drawing of a page needs of the rest of the site. */
export interface Drawing {
  /** HTML in the place of a line `{{name}}`, already safe. */
  readonly part: (name: string) => string;
  /** A picture by its path as written, as HTML that needs no other file. */
  readonly picture: (path: string, words: string) => string;
}

/** A heading with the text under it, for the search. */
export interface Passage {
  readonly anchor: string;
  readonly heading: string;
  readonly text: string;
}

export interface Drawn {
  readonly html: string;
  readonly passages: readonly Passage[];
  readonly headings: readonly {
    readonly level: number;
    readonly anchor: string;
    readonly text: string;
  }[];
}

type Token = ReturnType<MarkdownIt["parse"]>[number];

/** Markdown as the inside of a page: headings with anchors, tables and code that scroll by themselves. */
export function drawMarkdown(markdown: string, drawing: Drawing): Drawn {
  const md = new MarkdownIt({ html: false, linkify: false, typographer: false });
  const tokens = md.parse(markdown, {});
  const headings = nameHeadings(tokens);
  for (const token of tokens) {
    for (const child of token.children ?? []) if (child.type === "link_open") toHtmlPage(child);
  }
  wrapTables(md, tokens);
  md.renderer.rules["fence"] = (all, at) => codeBlock(all[at]!);
  md.renderer.rules["image"] = (all, at) =>
    drawing.picture(all[at]!.attrGet("src") ?? "", all[at]!.content);
  const html = md.renderer
    .render(tokens, md.options, {})
    // A picture is a figure: it stands in no paragraph.
    .replace(/<p>(<figure[\s\S]*?<\/figure>)<\/p>/g, "$1")
    .replace(/<p>\{\{([a-z0-9-]+(?: [a-z0-9-]+)*)\}\}<\/p>/g, (_, name: string) =>
      drawing.part(name),
    );
  return { html: cautions(html), passages: passagesOf(tokens), headings };
}

/** Every heading gets an anchor of its own, made from its words. */
function nameHeadings(tokens: readonly Token[]): Drawn["headings"] {
  const seen = new Map<string, number>();
  const found: { level: number; anchor: string; text: string }[] = [];
  tokens.forEach((token, at) => {
    if (token.type !== "heading_open") return;
    const text = plainText(tokens[at + 1]!);
    const words = anchorOf(text);
    const n = (seen.get(words) ?? 0) + 1;
    seen.set(words, n);
    const anchor = n === 1 ? words : `${words}-${n}`;
    token.attrSet("id", anchor);
    found.push({ level: Number(token.tag.slice(1)), anchor, text });
  });
  return found;
}

/** Links between pages are written to the Markdown file, so that they also lead on in a code host. */
function toHtmlPage(link: Token): void {
  const href = link.attrGet("href") ?? "";
  if (!/^[a-z]+:/.test(href))
    link.attrSet("href", href.replace(/^([\w/-]+)\.md(#.*)?$/, "$1.html$2"));
}

function wrapTables(md: MarkdownIt, tokens: readonly Token[]): void {
  let heading = "";
  const names = new Map<Token, string>();
  tokens.forEach((token, at) => {
    if (token.type === "heading_open") heading = plainText(tokens[at + 1]!);
    if (token.type === "table_open") names.set(token, heading);
  });
  md.renderer.rules["table_open"] = (all, at) => {
    const name = escapeHtml(`Table: ${names.get(all[at]!) ?? ""}`);
    return `<div class="scroll" tabindex="0" role="region" aria-label="${name}"><table aria-label="${name}">`;
  };
  md.renderer.rules["table_close"] = () => "</table></div>\n";
  md.renderer.rules["th_open"] = () => '<th scope="col">';
}

function codeBlock(token: Token): string {
  const words: Readonly<Record<string, string>> = { sh: "To type", ts: "Code", json: "study.json" };
  const name = words[token.info.trim()] ?? "Text";
  return `<pre tabindex="0" role="region" aria-label="${name}"><code>${escapeHtml(token.content)}</code></pre>\n`;
}

/** A caution is a quote that begins with the word in bold. */
function cautions(html: string): string {
  return html.replace(
    /<blockquote>\s*(<p><strong>(?:Caution|Not a diagnosis)[\s\S]*?)<\/blockquote>/g,
    '<div class="caution" role="note">$1</div>',
  );
}

function plainText(inline: Token): string {
  return (inline.children ?? [])
    .map((child) => (child.type === "softbreak" ? " " : child.content))
    .join("");
}

function passagesOf(tokens: readonly Token[]): Passage[] {
  const passages: { anchor: string; heading: string; text: string }[] = [];
  tokens.forEach((token, at) => {
    if (token.type === "heading_open")
      passages.push({
        anchor: token.attrGet("id") ?? "",
        heading: plainText(tokens[at + 1]!),
        text: "",
      });
    else if (tokens[at - 1]?.type !== "heading_open") {
      const last = passages.at(-1);
      if (last === undefined) return;
      if (token.type === "inline") last.text += ` ${plainText(token)}`;
      if (token.type === "fence") last.text += ` ${token.content}`;
    }
  });
  return passages.map((each) => ({
    ...each,
    text: each.text
      .replace(/\{\{[^}]*\}\}/g, "")
      .replace(/\s+/g, " ")
      .trim(),
  }));
}
