/** The cautions of a page, however deep they lie in it, open and folded. */
export function cautionsIn(page: unknown): string[] {
  if (typeof page !== "object" || page === null) return [];
  if ("kind" in page && page.kind === "caution" && "text" in page) return [String(page.text)];
  return Object.values(page).flatMap(cautionsIn);
}
