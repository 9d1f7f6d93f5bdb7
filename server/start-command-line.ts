// The command line's first step: has its code taken from the cache, then runs it. Knows nothing of commands but their names.
import { isMainThread } from "node:worker_threads";
import { runBody } from "./compiled-code.ts";

const [command = ""] = process.argv.slice(2);
const keepCode = runBody("command-line.body.cjs", /^[a-z]{2,12}$/.test(command) ? `command-${command}` : "command");
// What could not run has not used what the next one will, and another thread uses a part of what this one does.
process.on("exit", (code) => {
  if (code < 2 && isMainThread) keepCode();
});
