// The language server over standard input and output, or over the editor's own channel: streams, files and the clock.
import { type Connection, createConnection, ProposedFeatures } from "vscode-languageserver/node";
import { localDate } from "./client-host.ts";
import { machineFor } from "./machine.ts";
import { serve } from "./service.ts";

// A language server that was started by hand without saying how to talk would wait in silence.
if (!process.argv.some((a) => a === "--stdio" || a === "--node-ipc" || a.startsWith("--socket") || a.startsWith("--pipe"))) {
  process.stderr.write("tappet-language-server talks to an editor: start it with --stdio.\n");
  process.exit(2);
}

const connection: Connection = createConnection(ProposedFeatures.all);
serve(connection, machineFor(connection, localDate));
