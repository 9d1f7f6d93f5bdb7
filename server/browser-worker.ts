// The language server in a browser worker: messages, the client for files, the clock.
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { clientHost, localDate } from "./client-host.ts";
import { serve } from "./service.ts";

const scope = self as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];
const connection = createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope as never));
serve(connection, { host: clientHost(connection), today: localDate, setRoots: () => undefined });
