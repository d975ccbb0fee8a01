import { randomBytes, timingSafeEqual } from "node:crypto";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";

/** What is served now. */
export interface ServedPages {
  /** Rises with every making of the pages. */
  readonly version: number;
  /** Rises with everything that is to be told, the pages and what is wrong. */
  readonly stand: number;
  /** By name: "index.html". */
  readonly pages: ReadonlyMap<string, string>;
  /** Why the pages are older than the records; null where they are not. */
  readonly trouble: string | null;
}

export interface PageServer {
  readonly address: string;
  /**
   * Tells whoever waits that something has changed; done once a page of it was fetched, at once
   * where nobody waits, else after a second at the latest.
   */
  changed(): Promise<void>;
  close(): Promise<void>;
}

/** A question is answered after so long at the latest, also when nothing has changed. */
const longestWaitMs = 25_000;
/** A page that was told of its successor fetches it within this time, or not at all. */
const longestFetchMs = 1000;

/**
 * Serves pages to this machine alone: bound to 127.0.0.1, under a path that nobody can
 * guess, to requests whose Host header names this address (a page elsewhere that makes a
 * browser ask under another name gets nothing), for reading only. `state?after=N` is
 * answered when there is something newer to tell than N.
 *
 * @param port 0 takes any that is free.
 * @example (await servePages(() => now, 0)).address // "http://127.0.0.1:40213/vR3.../"
 */
export async function servePages(current: () => ServedPages, port: number): Promise<PageServer> {
  const secret = randomBytes(18).toString("base64url");
  const waiting = new Set<() => void>();
  let fetched = () => {};
  let hosts: ReadonlySet<string> = new Set();

  const answer = (request: IncomingMessage, response: ServerResponse) => {
    for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
    const end = (status: number, type: string, body: string) => {
      response.writeHead(status, { "content-type": `${type}; charset=utf-8` });
      response.end(request.method === "HEAD" ? undefined : body);
    };
    const refuse = (status: number, why: string) => end(status, "text/plain", `${why}\n`);
    if (!hosts.has(request.headers.host ?? "")) return refuse(421, "Not asked under this address.");
    if (request.method !== "GET" && request.method !== "HEAD") {
      response.setHeader("allow", "GET, HEAD");
      return refuse(405, "These pages are for reading.");
    }
    const [path = "", query = ""] = (request.url ?? "").split("?");
    const [, asked = "", name = "", ...more] = path.split("/");
    if (!isSame(asked, secret) || more.length > 0) return refuse(404, "There is nothing here.");
    if (name === "state") {
      const after = new URLSearchParams(query).get("after");
      const send = () => {
        clearTimeout(timer);
        waiting.delete(send);
        const { version, stand, trouble } = current();
        end(200, "application/json", JSON.stringify({ version, stand, trouble }));
      };
      const timer = setTimeout(send, longestWaitMs);
      response.once("close", () => {
        clearTimeout(timer);
        waiting.delete(send);
      });
      if (String(current().stand) === after) waiting.add(send);
      else send();
      return;
    }
    const page = current().pages.get(name === "" ? "index.html" : name);
    if (page === undefined) return refuse(404, "There is nothing here.");
    response.once("close", fetched);
    return end(200, "text/html", page);
  };

  const server = createServer(answer);
  await new Promise<void>((done, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", done);
  });
  const taken = (server.address() as { port: number }).port;
  hosts = new Set([`127.0.0.1:${taken}`, `localhost:${taken}`]);
  return {
    address: `http://127.0.0.1:${taken}/${secret}/`,
    changed: () =>
      new Promise<void>((done) => {
        if (waiting.size === 0) return done();
        const timer = setTimeout(done, longestFetchMs);
        fetched = () => {
          clearTimeout(timer);
          done();
        };
        for (const send of [...waiting]) send();
      }),
    close: async () => {
      const closed = new Promise((done) => server.close(done));
      server.closeAllConnections();
      await closed;
    },
  };
}

/** Kept nowhere, read as what it is said to be, framed by nobody, and its address told to nobody. */
const headers = {
  "cache-control": "no-store",
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-resource-policy": "same-origin",
  "content-security-policy": "frame-ancestors 'none'",
};

function isSame(a: string, b: string): boolean {
  const [x, y] = [Buffer.from(a), Buffer.from(b)];
  return x.length === y.length && timingSafeEqual(x, y);
}
