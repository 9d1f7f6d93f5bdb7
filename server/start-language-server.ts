// The language server's first step: has its code taken from the cache, then runs it. Knows nothing of the protocol.
import { runBody } from "./compiled-code.ts";

/** By then a client has opened its first file and been answered. In milliseconds. A server may be ended without a chance to write later. */
const WRITTEN_AFTER = 10_000;

setTimeout(runBody("language-server.body.cjs", "language-server"), WRITTEN_AFTER).unref();
