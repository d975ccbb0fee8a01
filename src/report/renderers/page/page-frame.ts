import { escapeHtml } from "./escape.js";
import { pageStyle } from "./page-style.js";
import { roleTokens } from "./role-tokens.js";

export interface PageFrame {
  readonly title: string;
  /** HTML that is already safe. */
  readonly body: string;
  /** What leads to other pages, before and after the content. HTML that is already safe. */
  readonly around?: { readonly before: string; readonly after: string };
  /** One line under everything, plain text. */
  readonly foot: string;
  /** Language of the text. Default "en". */
  readonly language?: string;
  /** More style rules, for example an embedded font. */
  readonly style?: string;
  /** A script inside the page, with the digest the content policy lets through. */
  readonly script?: { readonly text: string; readonly sha256Base64: string };
}

/**
 * A whole page that needs no other file and no network: the content policy in
 * its head forbids both.
 */
export function pageFrame(frame: PageFrame): string {
  return `<!doctype html>
<html lang="${escapeHtml(frame.language ?? "en")}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; base-uri 'none'; form-action 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:${scriptPolicy(frame)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(frame.title)}</title>
<style>${pageStyle}${roleTokens}${frame.style ?? ""}</style>
</head>
<body>
<a class="skip" href="#content">Skip to the content</a>
${frame.around?.before ?? ""}<main id="content">
${ownNames(frame.body)}
</main>
${frame.around?.after ?? ""}<footer class="end"><p>${escapeHtml(frame.foot)}</p></footer>
${frame.script === undefined ? "" : `<script>${frame.script.text}</script>\n`}</body>
</html>
`;
}

/** Regions of one name on one page are numbered: whoever goes by their names must tell them apart. */
function ownNames(html: string): string {
  const seen = new Map<string, number>();
  return html.replace(/role="region" aria-label="([^"]*)"/g, (whole, name: string) => {
    // Capitals are not heard.
    const heard = name.toLowerCase();
    const n = (seen.get(heard) ?? 0) + 1;
    seen.set(heard, n);
    return n === 1 ? whole : `role="region" aria-label="${name} (${n})"`;
  });
}

/** Only the one script with this digest may run. */
function scriptPolicy(frame: PageFrame): string {
  return frame.script === undefined ? "" : `; script-src 'sha256-${frame.script.sha256Base64}'`;
}
