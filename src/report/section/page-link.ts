/** A way to another page. */
export interface PageLink {
  readonly href: string;
  readonly text: string;
}
