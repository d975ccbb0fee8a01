import { escapeHtml } from "./escape.js";

/**
 * The box around a picture. One that can be asked takes the focus and has a name
 * (WCAG 2.2, 2.1.1 and 4.1.2); `kind` says for which screens it is. `inner` is
 * HTML that is already safe.
 */
export function pictureBox(
  inner: string,
  name: string,
  more: { readonly kind?: "wide" | "narrow"; readonly asked?: boolean } = {},
): string {
  const kind = more.kind === undefined ? "" : ` ${more.kind}`;
  const asked =
    more.asked === true
      ? ` tabindex="0" role="group" aria-label="${escapeHtml(`${name}. Left and right arrows read the values, plus and minus show fewer or more days, Escape shows all.`)}"`
      : "";
  return `<div class="picture${kind}"${asked}>${inner}</div>`;
}
