/**
 * Loads a package that a notebook can do without, its greetings kept from the
 * page. Where it is absent, says what to type and hands back null, so that the
 * notebook goes on.
 *
 * @param load an import of the package, so that its own types are kept.
 * @param name what to type after `npm install`.
 * @example const danfo = await loadOptional(() => import("danfojs-node"), "danfojs-node@1.2.0")
 */
export async function loadOptional<Package>(
  load: () => Promise<Package>,
  name: string,
): Promise<Package | null> {
  const { log, warn, error } = console;
  const quiet = () => {};
  Object.assign(console, { log: quiet, warn: quiet, error: quiet });
  const loaded = await load().catch(() => null);
  Object.assign(console, { log, warn, error });
  if (loaded === null)
    console.log(`This cell needs ${name}, which is not installed. Type: npm install ${name}`);
  return loaded;
}
