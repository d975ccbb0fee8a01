import { createHash } from "node:crypto";

/**
 * A page that is watched: it asks whether it is still the newest, loads itself again
 * when it is not, and keeps its place and its open folds. When nobody answers any more,
 * or the records cannot be read, it says so at its top: an old page must not pass for a
 * new one. The content policy lets this script run, and this address be asked, and
 * nothing else.
 *
 * @param version what the page is; the address answers with another when there is a newer one.
 * @example withReload(dayPage(answer), 3)
 */
export function withReload(html: string, version: number): string {
  const text = `${script}(${version});`;
  const digest = `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
  return html
    .replace(/(http-equiv="Content-Security-Policy" content=")([^"]*)"/, (_, start, policy) => {
      const own = /script-src /.test(policy)
        ? policy.replace("script-src ", `script-src ${digest} `)
        : `${policy}; script-src ${digest}`;
      return `${start}${own}; connect-src 'self'"`;
    })
    .replace(/<\/body>\s*<\/html>\s*$/, `<script>${text}</script>\n</body>\n</html>\n`);
}

const script = `(async (version) => {
  const key = "gramline " + location.pathname;
  const named = () => {
    const seen = new Map();
    return [...document.querySelectorAll("details")].map((fold) => {
      const row = fold.closest("[id]");
      const summary = fold.querySelector("summary");
      const name = (row === null ? "" : row.id) + " " + (summary === null ? "" : summary.textContent.trim());
      seen.set(name, (seen.get(name) ?? 0) + 1);
      return [name + " " + seen.get(name), fold];
    });
  };
  const kept = JSON.parse(sessionStorage.getItem(key) ?? "null");
  if (kept !== null) {
    sessionStorage.removeItem(key);
    for (const [name, fold] of named()) if (name in kept.folds) fold.open = kept.folds[name];
    scrollTo(kept.x, kept.y);
  }
  const keep = () => {
    const folds = Object.fromEntries(named().map(([name, fold]) => [name, fold.open]));
    sessionStorage.setItem(key, JSON.stringify({ x: scrollX, y: scrollY, folds }));
  };
  const notice = document.createElement("p");
  notice.setAttribute("role", "alert");
  Object.assign(notice.style, { position: "sticky", top: "0", margin: "0", padding: "0.6em 1em", zIndex: "9", background: "Canvas", color: "CanvasText", borderBottom: "3px solid" });
  const say = (words) => {
    notice.textContent = words;
    if (words === "") notice.remove();
    else if (!notice.isConnected) document.body.prepend(notice);
  };
  for (let stand = -1; ; ) {
    try {
      const answer = await fetch("state?after=" + stand, { cache: "no-store" });
      if (!answer.ok) throw new Error(String(answer.status));
      const state = await answer.json();
      if (state.version !== version) {
        keep();
        location.reload();
        return;
      }
      stand = state.stand;
      say(state.trouble ?? "");
    } catch {
      stand = -1;
      say("This page is no longer kept up to date: gramline watch does not answer. Start it again, then open the address that it prints.");
      await new Promise((go) => setTimeout(go, 2000));
    }
  }
})`;
