import { createHmac, randomUUID, timingSafeEqual } from "node:crypto";

/**
 * One message of the Jupyter messaging protocol 5.3 ("Messaging in Jupyter",
 * jupyter-client documentation): header, parent header, metadata and content as
 * JSON, signed together with HMAC-SHA256.
 */
export interface JupyterMessage {
  readonly header: JupyterHeader;
  readonly parentHeader: Partial<JupyterHeader>;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly content: Readonly<Record<string, unknown>>;
}

export interface JupyterHeader {
  readonly msg_id: string;
  readonly session: string;
  readonly username: string;
  readonly date: string;
  readonly msg_type: string;
  readonly version: string;
}

const delimiter = "<IDS|MSG>";

/** Makes a request of a type with its content. */
export function makeRequest(
  type: string,
  content: Readonly<Record<string, unknown>>,
  session: string,
): JupyterMessage {
  return {
    header: {
      msg_id: randomUUID(),
      session,
      username: "gramline",
      date: new Date().toISOString(),
      msg_type: type,
      version: "5.3",
    },
    parentHeader: {},
    metadata: {},
    content,
  };
}

/** Writes a message as the frames that go over the wire. */
export function encodeMessage(message: JupyterMessage, key: string): string[] {
  const parts = [message.header, message.parentHeader, message.metadata, message.content].map(
    (part) => JSON.stringify(part),
  );
  return [delimiter, signatureOf(parts, key), ...parts];
}

/** Reads frames from the wire; throws when the signature is not that of the key. */
export function decodeMessage(frames: readonly Uint8Array[], key: string): JupyterMessage {
  const texts = frames.map((frame) => Buffer.from(frame).toString("utf8"));
  const start = texts.indexOf(delimiter);
  const parts = texts.slice(start + 2, start + 6);
  if (start < 0 || parts.length < 4) throw new Error("a message without its four parts came");
  const came = Buffer.from(texts[start + 1]!, "utf8");
  const right = Buffer.from(signatureOf(parts, key), "utf8");
  if (came.length !== right.length || !timingSafeEqual(came, right)) {
    throw new Error("a message with a wrong signature came");
  }
  const [header, parentHeader, metadata, content] = parts.map((part) => JSON.parse(part));
  return { header, parentHeader, metadata, content };
}

function signatureOf(parts: readonly string[], key: string): string {
  const hash = createHmac("sha256", key);
  for (const part of parts) hash.update(part);
  return hash.digest("hex");
}
