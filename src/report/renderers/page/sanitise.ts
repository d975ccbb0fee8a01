import { escapeHtml } from "./escape.js";

/**
 * Rebuilds HTML or SVG from an allow-list of elements and attributes: whatever
 * is not listed is dropped, text is escaped again, and no attribute can run
 * code or fetch anything from a network. Elements that hold code are dropped
 * with everything inside them. `idPrefix` keeps the ids of several pictures on
 * one page apart: ids and the references to them all receive it.
 *
 * @example sanitise('<b onclick="x()">mass</b><script>y()</script>') // "<b>mass</b>"
 */
export function sanitise(markup: string, idPrefix = ""): string {
  let out = "";
  let at = 0;
  const open: string[] = [];
  while (at < markup.length) {
    const next = markup.indexOf("<", at);
    if (next < 0) return out + textOf(markup.slice(at)) + closeAll(open);
    out += textOf(markup.slice(at, next));
    if (markup.startsWith("<!--", next)) {
      const end = markup.indexOf("-->", next + 4);
      at = end < 0 ? markup.length : end + 3;
      continue;
    }
    const tag = tagAt(markup, next);
    if (tag === null) {
      out += "&#60;";
      at = next + 1;
      continue;
    }
    at = tag.end;
    const name = elements.get(tag.name.toLowerCase());
    if (name === undefined) {
      if (!tag.closing && heldCode.has(tag.name.toLowerCase()) && !tag.selfClosing) {
        at = endOf(markup, tag.name, at);
      }
      continue;
    }
    if (tag.closing) {
      const from = open.lastIndexOf(name);
      // A closing tag closes what was opened inside it as well.
      if (from >= 0) out += closeAll(open.splice(from));
      continue;
    }
    const attributes = tag.attributes
      .map(([attribute, value]) => allowed(attribute, value, idPrefix))
      .filter((each) => each !== null)
      .join("");
    if (voidElements.has(name)) out += `<${name}${attributes}>`;
    else if (tag.selfClosing) out += `<${name}${attributes}></${name}>`;
    else {
      out += `<${name}${attributes}>`;
      open.push(name);
    }
  }
  return out + closeAll(open);
}

const elements = new Map(
  (
    "a abbr b blockquote br caption code col colgroup dd details div dl dt em figcaption figure h1 h2 h3 h4 h5 h6 " +
    "hr i kbd li mark ol p pre q s samp section small span strong sub summary sup table tbody td tfoot th thead " +
    "time tr u ul var svg g path rect circle ellipse line polyline polygon text tspan defs title desc clipPath " +
    "linearGradient stop marker"
  )
    .split(" ")
    .map((name) => [name.toLowerCase(), name]),
);

const voidElements = new Set(["br", "col", "hr"]);

/** Dropped together with their contents. */
const heldCode = new Set(
  "script style iframe object embed template noscript textarea select foreignobject math".split(
    " ",
  ),
);

const attributeNames = new Map(
  (
    "class id title lang dir role scope colspan rowspan datetime open start tabindex href " +
    "aria-label aria-labelledby aria-describedby aria-hidden aria-roledescription " +
    "d x y x1 y1 x2 y2 cx cy r rx ry dx dy width height viewBox preserveAspectRatio points transform xmlns " +
    "fill fill-opacity fill-rule stroke stroke-width stroke-opacity stroke-dasharray stroke-dashoffset " +
    "stroke-linecap stroke-linejoin stroke-miterlimit opacity text-anchor dominant-baseline font-size font-family " +
    "font-weight font-style clip-path clip-rule offset stop-color stop-opacity markerWidth markerHeight orient refX " +
    "refY marker-end marker-start style version pointer-events letter-spacing"
  )
    .split(" ")
    .map((name) => [name.toLowerCase(), name]),
);

function allowed(attribute: string, raw: string, idPrefix: string): string | null {
  const name = attributeNames.get(attribute.toLowerCase());
  if (name === undefined) return null;
  // A course of many points has no bracket in it, and nothing more to be looked for.
  const value = idPrefix === "" || !refers(name, raw) ? raw : prefixed(name, raw, idPrefix);
  if (name === "href" && !/^(https?:|mailto:|#)/i.test(value.trim())) return null;
  if (name === "style") {
    const kept = value
      .split(";")
      .map((part) => part.trim())
      .filter((part) => safeStyle.test(part));
    return kept.length === 0 ? null : ` style="${escapeHtml(kept.join("; "))}"`;
  }
  if (
    name !== "href" &&
    name !== "xmlns" &&
    raw.includes("(") &&
    /url\s*\(/i.test(value) &&
    !/^url\(#[\w-]+\)$/.test(value.trim())
  ) {
    return null;
  }
  return ` ${name}="${escapeHtml(value)}"`;
}

/** An id, or what may hold a reference to one. */
const refers = (name: string, value: string): boolean =>
  name === "id" || name === "href" || name.startsWith("aria-") || value.includes("(");

function prefixed(name: string, value: string, idPrefix: string): string {
  if (name === "id") return `${idPrefix}${value}`;
  if (name === "href") return value.replace(/^#/, `#${idPrefix}`);
  if (name.startsWith("aria-labelledby") || name === "aria-describedby") {
    return value
      .split(/\s+/)
      .map((id) => `${idPrefix}${id}`)
      .join(" ");
  }
  return value.replace(/url\(#/g, `url(#${idPrefix}`);
}

/** Only plain properties with plain values: no url(), no expressions, no escapes. */
const safeStyle =
  /^(text-align|font-weight|font-style|font-size|font-family|white-space|width|max-width|height|color|background-color|fill|stroke|stroke-width|opacity|padding|margin|vertical-align|display|pointer-events)\s*:\s*[\w\s.,%#'-]+$/i;

interface Tag {
  readonly name: string;
  readonly closing: boolean;
  readonly selfClosing: boolean;
  readonly attributes: readonly (readonly [string, string])[];
  readonly end: number;
}

const tagStart = /<(\/?)([A-Za-z][A-Za-z0-9:-]*)/y;
const attributePart = /[\s/]*([^\s"'<>/=]+)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'=<>`]+)))?/y;
const tagEnd = /[\s/]*>/y;

function tagAt(markup: string, at: number): Tag | null {
  tagStart.lastIndex = at;
  const start = tagStart.exec(markup);
  if (start === null) return null;
  let from = tagStart.lastIndex;
  const attributes: [string, string][] = [];
  for (;;) {
    tagEnd.lastIndex = from;
    const end = tagEnd.exec(markup);
    if (end !== null) {
      return {
        name: start[2]!,
        closing: start[1] === "/",
        selfClosing: end[0].includes("/"),
        attributes,
        end: tagEnd.lastIndex,
      };
    }
    attributePart.lastIndex = from;
    const part = attributePart.exec(markup);
    if (part === null || part[0] === "") return null;
    attributes.push([part[1]!, decodeEntities(part[2] ?? part[3] ?? part[4] ?? "")]);
    from = attributePart.lastIndex;
  }
}

function endOf(markup: string, name: string, from: number): number {
  const end = new RegExp(`</${name}\\s*>`, "i").exec(markup.slice(from));
  return end === null ? markup.length : from + end.index + end[0].length;
}

function closeAll(open: readonly string[]): string {
  return [...open]
    .reverse()
    .map((name) => `</${name}>`)
    .join("");
}

const textOf = (text: string) => escapeHtml(decodeEntities(text));

const namedEntities: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  apos: "'",
  nbsp: "\u00a0",
};

function decodeEntities(text: string): string {
  if (!text.includes("&")) return text;
  return text.replace(/&(#x[0-9a-f]{1,6}|#\d{1,7}|[a-z]+);/gi, (whole, body: string) => {
    if (body[0] !== "#") return namedEntities[body.toLowerCase()] ?? whole;
    const code = /^#x/i.test(body) ? Number.parseInt(body.slice(2), 16) : Number(body.slice(1));
    return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : "";
  });
}
