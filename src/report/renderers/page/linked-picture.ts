import { escapeHtml } from "./escape.js";

type HrefOf = (animalId: string) => string | null;

/**
 * A drawn picture in which the name of an animal, and a mark that is described by
 * it, lead to its page: links as any other, reached by Tab and opened by Enter,
 * without a script. Marks say what they stand for.
 */
export function linkedPicture(
  svg: string,
  animals: Readonly<Record<string, string>> | undefined,
  hrefOf: HrefOf | undefined,
): string {
  if (animals === undefined || hrefOf === undefined) return svg;
  const hrefs = new Map<string, string>();
  for (const [name, id] of Object.entries(animals)) {
    const href = hrefOf(id);
    if (href !== null) hrefs.set(escapeHtml(name), href);
  }
  if (hrefs.size === 0) return svg;
  const link = (href: string, name: string, inner: string) =>
    `<a href="${escapeHtml(href)}" aria-label="${name}">${inner}</a>`;
  const linked = svg
    .replace(/<text\b[^>]*>([^<]*)<\/text>/g, (whole, words: string) => {
      const href = hrefs.get(words);
      return href === undefined ? whole : link(href, words, whole);
    })
    .replace(namedMark, (whole, words: string) => {
      const href = hrefs.get(words.split(": ")[0]!);
      return href === undefined ? whole : link(href, words, withTitle(whole, words));
    });
  // One image hides what is inside it from a screen reader; a group does not.
  return linked === svg ? svg : withoutHiding(linked).replace('role="img"', 'role="group"');
}

/**
 * Says what a mark stands for in a title, which any element may have: a name is for
 * links and buttons, and a mark that became no link is neither.
 *
 * @example marksWithTitles('<path aria-label="O25-04: 41 g/d" d="M0,0"></path>') // '<path d="M0,0"><title>O25-04: 41 g/d</title></path>'
 */
export function marksWithTitles(svg: string): string {
  return svg.replace(namedMark, withTitle);
}

const namedMark = /<path\b[^>]*?\saria-label="([^"]*)"[^>]*><\/path>/g;

const withTitle = (mark: string, words: string) =>
  mark.replace(/ aria-label="[^"]*"/, "").replace("></path>", `><title>${words}</title></path>`);

/** A link inside a group that is hidden from screen readers would be reached and not named. */
function withoutHiding(svg: string): string {
  const hidden = / aria-hidden="true"/;
  return svg.replace(/<g\b[^>]* aria-hidden="true"[^>]*>/g, (open: string, at: number) =>
    groupFrom(svg, at).includes("<a ") ? open.replace(hidden, "") : open,
  );
}

/** A group from its opening tag to the one that closes it. */
function groupFrom(svg: string, at: number): string {
  const tags = /<g\b[^>]*>|<\/g>/g;
  tags.lastIndex = at;
  let depth = 0;
  for (let tag = tags.exec(svg); tag !== null; tag = tags.exec(svg)) {
    if (!tag[0].endsWith("/>")) depth += tag[0] === "</g>" ? -1 : 1;
    if (depth === 0) return svg.slice(at, tags.lastIndex);
  }
  return svg.slice(at);
}
