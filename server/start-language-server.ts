// The language server's first step: has its code taken from the cache, then runs it. Knows nothing of the protocol.
import { join } from "node:path";
import { keepCompiledCode, writeCompiledCode } from "./compiled-code.ts";

/** By then a client has opened its first file and been answered. In milliseconds. */
const WRITTEN_AFTER = 10_000;

keepCompiledCode("language-server");
setTimeout(writeCompiledCode, WRITTEN_AFTER).unref();
// Named at run time, or the bundler would put it into this file, and all of it would be compiled before the cache is asked.
require(join(__dirname, "language-server.body.cjs"));
