import { decodeMessage, type JupyterMessage } from "./jupyter-message.js";

/** Hands on every message of a socket whose signature is right, until the socket is closed. */
export async function receiveMessages(
  socket: AsyncIterable<Uint8Array[]>,
  key: string,
  take: (message: JupyterMessage) => void,
): Promise<void> {
  try {
    for await (const frames of socket) {
      const message = decoded(frames, key);
      if (message !== null) take(message);
    }
  } catch {
    // The socket was closed: the kernel is being stopped.
  }
}

/** The protocol says that a message with a wrong signature is to be dropped. */
function decoded(frames: readonly Uint8Array[], key: string): JupyterMessage | null {
  try {
    return decodeMessage(frames, key);
  } catch {
    return null;
  }
}
