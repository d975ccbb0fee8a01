import type { JupyterMessage } from "./jupyter-message.js";

/** One question to the kernel: its type, its content, who hears what is shown, and for how long to wait. */
export type Ask = (
  type: string,
  content: Readonly<Record<string, unknown>>,
  onOutput: (message: JupyterMessage) => void,
  seconds: number,
) => Promise<JupyterMessage>;

/** Asks "who are you" until reply and status both arrive: only then is the output socket joined. */
export async function askUntilAnswered(ask: Ask, timeoutSeconds: number): Promise<JupyterMessage> {
  const end = Date.now() + timeoutSeconds * 1000;
  for (;;) {
    try {
      return await ask("kernel_info_request", {}, () => {}, 1);
    } catch (error) {
      if (!/time-out/.test((error as Error).message)) throw error;
      if (Date.now() > end) {
        throw new Error(`the kernel did not answer within ${timeoutSeconds} s of its start`);
      }
    }
  }
}
