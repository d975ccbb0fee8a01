/** Names of anchors on a page. */
const anchorsOf = (html: string) => [...html.matchAll(/\sid="([^"]*)"/g)].map((m) => m[1]!);

/**
 * What is wrong with the ways between the files of a site: a page or an anchor that
 * is not there, an anchor that stands twice, an address that is none. Addresses of
 * other sites are looked at for their form alone; nobody is asked.
 *
 * @param files text by path; a file that is no page may be empty
 */
export function wrongLinks(files: ReadonlyMap<string, string>): string[] {
  const anchors = new Map(
    [...files]
      .filter(([path]) => path.endsWith(".html"))
      .map(([path, html]) => [path, new Set(anchorsOf(html))]),
  );
  const wrong: string[] = [];
  for (const [path, html] of files) {
    if (!path.endsWith(".html")) continue;
    const all = anchorsOf(html);
    for (const id of new Set(all.filter((each, i) => all.indexOf(each) !== i)))
      wrong.push(`${path}: the anchor ${id} stands twice`);
    for (const [, written] of html.matchAll(/<a\b[^>]*?\shref="([^"]*)"/g)) {
      const href = written!.replaceAll("&#38;", "&").replaceAll("&amp;", "&");
      const why = wrongWith(href, path, files, anchors);
      if (why !== null) wrong.push(`${path}: ${href} ${why}`);
    }
  }
  return wrong;
}

function wrongWith(
  href: string,
  from: string,
  files: ReadonlyMap<string, string>,
  anchors: ReadonlyMap<string, ReadonlySet<string>>,
): string | null {
  if (/^[a-z]+:/i.test(href))
    return /^https:\/\/[\w.-]+\.[a-z]{2,}(\/\S*)?$/.test(href) ? null : "is no address of the web";
  const [path = "", anchor] = href.split("#");
  const base = new URL(from, "file:///site/");
  const to = path === "" ? from : decodeURIComponent(new URL(path, base).pathname.slice(6));
  if (!files.has(to)) return "leads to no file";
  if (anchor === undefined || anchor === "") return null;
  return anchors.get(to)?.has(decodeURIComponent(anchor)) === true ? null : "leads to no anchor";
}
