/** What a page lacks for readers with a keyboard or a screen reader; empty when it lacks nothing. */
export function structureFaults(html: string): string[] {
  const faults: string[] = [];
  const demand = (holds: boolean, words: string) => {
    if (!holds) faults.push(words);
  };
  const body = html.replace(/<(script|style)\b[\s\S]*?<\/\1>/g, "");
  const all = (pattern: RegExp) => [...body.matchAll(pattern)];

  demand(/<html lang="[a-z]{2}/.test(html), "the page names no language");
  demand(/<title>[^<]+<\/title>/.test(html), "the page has no title");
  demand(/<body>\s*<a class="skip" href="#content">/.test(html), "no skip link stands first");
  demand(/<main id="content">/.test(html), "the skip link leads nowhere");

  const levels = all(/<h([1-6])\b/g).map((m) => Number(m[1]));
  demand(levels[0] === 1, "the first heading is not of level 1");
  demand(levels.filter((level) => level === 1).length === 1, "there is not one heading of level 1");
  levels.forEach((level, at) => {
    demand(at === 0 || level <= levels[at - 1]! + 1, `heading ${at + 1} skips a level`);
  });

  for (const [table] of all(/<table\b[\s\S]*?<\/table>/g)) {
    const name = /<caption[^>]*>[^<]+|<table aria-label="[^"]+"/.test(table);
    demand(name, `a table has no name: ${table.slice(0, 80)}`);
    demand(!/<th(?![^>]*\bscope="(?:col|row)")[\s>]/.test(table), "a head cell has no scope");
    const widths = [...table.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(
      (row) => row[1]!.match(/<t[hd][\s>]/g)!.length,
    );
    demand(new Set(widths).size <= 1, `rows of a table differ in length: ${widths.join(" ")}`);
  }
  for (const [tag] of all(/<svg\b[^>]*>/g)) {
    // A mark whose word stands beside it is passed over by a screen reader.
    const passedOver = /aria-hidden="true"/.test(tag);
    demand(passedOver || /role="img" aria-label="[^"]{5,}"/.test(tag), "a picture has no words");
  }
  for (const [tag] of all(/<img\b[^>]*>/g)) demand(/\balt="/.test(tag), "an image has no words");
  // What can be reached by keyboard must say what it is (WCAG 2.2, 4.1.2).
  for (const [tag] of all(/<[a-z]+\b[^>]*tabindex="0"[^>]*>/g)) {
    demand(/role="[a-z]+" aria-label="[^"]+"/.test(tag), `no name: ${tag.slice(0, 80)}`);
  }
  demand(!/tabindex="[1-9]/.test(body), "an order of its own for the Tab key");
  for (const [, words] of all(/<(?:a|summary|button)\b[^>]*>([\s\S]*?)<\/(?:a|summary|button)>/g)) {
    demand(words!.replace(/<[^>]*>/g, "").trim() !== "", "a link or button without words");
  }
  const ids = all(/\sid="([^"]+)"/g).map((m) => m[1]!);
  demand(new Set(ids).size === ids.length, "an id stands twice");
  for (const [, id] of all(/href="#([^"]+)"/g)) {
    demand(ids.includes(id!), `a link leads to #${id}, which is not there`);
  }
  const words = body.replace(/<[^>]*>/g, " ");
  const broken = /\b(?:NaN|undefined|Infinity|\[object)\b/.exec(words);
  demand(
    broken === null,
    `a broken value: ${words.slice(Math.max(0, (broken?.index ?? 0) - 40)).slice(0, 90)}`,
  );
  return faults;
}
