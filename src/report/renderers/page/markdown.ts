import MarkdownIt from "markdown-it";

/**
 * Markdown to HTML, with raw HTML in the text shown as text and only web, mail
 * and page-internal links let through.
 */
export function markdownToHtml(text: string): string {
  renderer ??= new MarkdownIt({ html: false, linkify: false, typographer: false });
  return renderer.render(text);
}

let renderer: MarkdownIt | undefined;
