/**
 * Where a fresh thread finds what reads TypeScript for it, when the library runs from its
 * sources (tests, benches). As an address: a name would be looked for from the folder that the
 * process stands in.
 */
export async function sourceLoader(): Promise<string> {
  const { createRequire } = await import("node:module");
  const { pathToFileURL } = await import("node:url");
  const { resolve } = createRequire(import.meta.url);
  return new URL("dist/esm/api/index.mjs", pathToFileURL(resolve("tsx/package.json"))).href;
}
