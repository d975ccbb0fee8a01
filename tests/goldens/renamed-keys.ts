/**
 * Keys that were renamed after the goldens were made, today's name first. A
 * result is told with the older names before it is compared, so that a pure
 * rename leaves every digest as it was. A key is renamed where it stands under
 * the named parent only, `*` meaning anywhere.
 */
export const renamedKeys: readonly {
  readonly under: string;
  readonly today: string;
  readonly then: string;
}[] = [];
