import type { MimeBundle } from "../report/renderers/notebook-file.js";

/**
 * The one thing a notebook kernel must be able to do for us: show one thing in
 * several forms. A second kernel costs one file that implements this.
 */
export interface DisplayAdapter {
  display(bundle: MimeBundle): void;
  /** One output that each call draws anew, for what goes on. */
  updatable(): (bundle: MimeBundle) => void;
}
