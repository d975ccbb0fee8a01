/** A page or a part of one without what is folded, what only scripts see, and the second, narrow pictures. */
export function openHtml(html: string): string {
  const body = html.replace(/^[\s\S]*<main[^>]*>|<\/main>[\s\S]*$/g, "");
  let open = body.replace(/<(script|style)[\s\S]*?<\/\1>/g, " ");
  // From the innermost fold outwards.
  for (let before = ""; before !== open; ) {
    before = open;
    open = open.replace(/<details(?:(?!<details)[\s\S])*?<\/details>/g, " ");
  }
  return open.replace(/<div class="picture narrow"[\s\S]*?<\/svg>/g, " ");
}
