// The command line's first step: has its code taken from the cache, then runs it. Knows nothing of commands but their names.
import { keepCompiledCode } from "./compiled-code.ts";

const [command = ""] = process.argv.slice(2);
keepCompiledCode(/^[a-z]{2,12}$/.test(command) ? `command-${command}` : "command");
// Named at run time, or the bundler would put it into this file, and all of it would be compiled before the cache is asked.
await import(new URL("./command-line.body.js", import.meta.url).href);
