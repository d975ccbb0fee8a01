import { execFileSync, spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import {
  decodeMessage,
  encodeMessage,
  makeRequest,
} from "../../src/command-line/jupyter-message.js";

const bytes = (frames: readonly string[]) => frames.map((frame) => Buffer.from(frame, "utf8"));
const request = makeRequest("execute_request", { code: "1 + 1 // ü" }, "session");

describe("a message of the Jupyter protocol", () => {
  it("has the parts and the order of the documentation (Messaging in Jupyter, wire protocol)", () => {
    const frames = encodeMessage(request, "key");
    expect(frames).toHaveLength(6);
    expect(frames[0]).toBe("<IDS|MSG>");
    expect(JSON.parse(frames[2]!)).toMatchObject({ msg_type: "execute_request", version: "5.3" });
    expect(JSON.parse(frames[3]!)).toEqual({});
    expect(JSON.parse(frames[5]!)).toEqual({ code: "1 + 1 // ü" });
  });

  const openssl = spawnSync("openssl", ["version"]).status === 0;
  it.skipIf(!openssl)("is signed as an independent program (openssl) signs the four parts", () => {
    const frames = encodeMessage(request, "secret-key");
    const said = execFileSync("openssl", ["dgst", "-sha256", "-hmac", "secret-key"], {
      input: frames.slice(2).join(""),
      encoding: "utf8",
    });
    expect(said.trim().split(/\s+/).at(-1)).toBe(frames[1]);
  });

  it("comes back as it was, also behind routing frames", () => {
    const frames = bytes(["route", ...encodeMessage(request, "key")]);
    expect(decodeMessage(frames, "key")).toEqual(request);
  });

  it("is refused with another key, a changed part or parts missing", () => {
    const frames = encodeMessage(request, "key");
    expect(() => decodeMessage(bytes(frames), "other")).toThrow(/signature/);
    const changed = [...frames.slice(0, 5), '{"code":"2"}'];
    expect(() => decodeMessage(bytes(changed), "key")).toThrow(/signature/);
    expect(() => decodeMessage(bytes(frames.slice(0, 4)), "key")).toThrow(/four parts/);
  });
});
