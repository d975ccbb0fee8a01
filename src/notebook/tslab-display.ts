import { randomBytes } from "node:crypto";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { MimeBundle } from "../report/renderers/notebook-file.js";
import type { DisplayAdapter } from "./display-adapter.js";

/**
 * Shows through the tslab kernel; `null` when this process is not one.
 *
 * The kernel's public `display` sends one form per call, so that a picture with
 * its specification and its text would become three outputs. The writer behind
 * it takes a whole bundle. It is internal, so it is looked for and checked each
 * time, and the public `display` (richest single form first) stands in when it
 * is not there.
 */
export function tslabDisplay(): DisplayAdapter | null {
  const cache = createRequire(import.meta.url).cache;
  const path = Object.keys(cache).find((name) => /[\\/]tslab[\\/]dist[\\/]jupyter\.js$/.test(name));
  if (path === undefined) return null;
  const writer = (): Writer | null => {
    const found: unknown = cache[path]?.exports?.lastWriteDisplayData;
    return typeof found === "function" ? (found as Writer) : null;
  };
  return {
    display(bundle) {
      const write = writer();
      if (write !== null) write({ data: bundle, metadata: {}, transient: {} }, false);
      else displayOneForm(bundle, path);
    },
    updatable() {
      // The writer of this cell: another cell may run when the last of it is drawn.
      const write = writer();
      const transient = { display_id: randomBytes(8).toString("hex") };
      let drawn = false;
      return (bundle) => {
        write?.({ data: bundle, metadata: {}, transient }, drawn);
        drawn = true;
      };
    },
  };
}

type Writer = (message: Readonly<Record<string, unknown>>, update: boolean) => void;

function displayOneForm(bundle: MimeBundle, jupyterPath: string): void {
  const publicPart = createRequire(import.meta.url)(join(jupyterPath, "..", "public.js")) as {
    display: { raw(type: string, data: string): void };
  };
  const type = ["image/svg+xml", "text/html", "text/markdown", "text/plain"].find(
    (each) => typeof bundle[each] === "string",
  );
  if (type !== undefined) publicPart.display.raw(type, bundle[type] as string);
}
