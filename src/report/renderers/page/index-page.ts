import { escapeHtml } from "./escape.js";
import { pageFrame } from "./page-frame.js";

export interface IndexEntry {
  readonly href: string;
  readonly title: string;
  readonly name: string;
  readonly failed: boolean;
}

/** The page that leads to all others. */
export function indexPage(entries: readonly IndexEntry[], foot: string, style = ""): string {
  const items = entries
    .map(
      (entry) =>
        `<li><a href="${escapeHtml(entry.href)}">${escapeHtml(entry.title)}</a>` +
        ` (<code>${escapeHtml(entry.name)}</code>)` +
        `${entry.failed ? ' <strong class="problem">did not run to its end</strong>' : ""}</li>`,
    )
    .join("\n");
  return pageFrame({
    title: "gramline: answers about this study",
    body: `<h1>Answers about this study</h1>\n<ul>\n${items}\n</ul>`,
    foot,
    style,
  });
}
