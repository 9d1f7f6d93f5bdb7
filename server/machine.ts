// What the language server may touch when it runs under Node: files below the opened folders, the client for everything else, the calendar.
import type { Connection } from "vscode-languageserver";
import { clientHost } from "./client-host.ts";
import type { Machine } from "./service.ts";
import { diskHost, pathOfUri, rootOf } from "./workspace/disk-host.ts";
import type { Host } from "./workspace/host.ts";

export function machineFor(connection: Connection, today: () => string): Machine {
  const client = clientHost(connection);
  let roots: readonly string[] = [];
  let disk: Host | undefined;
  return {
    today,
    setRoots(uris) {
      roots = uris.flatMap((uri) => pathOfUri(uri) ?? []);
      disk = undefined;
    },
    host: {
      async read(uri) {
        const path = pathOfUri(uri);
        if (path === undefined) return client.read(uri);
        // A file opened by itself, without a folder, may read what lies in its own project.
        if (roots.length === 0) return diskHost([await rootOf(path, process.cwd())]).read(uri);
        return (disk ??= diskHost(roots)).read(uri);
      },
      async readData(uri) {
        const path = pathOfUri(uri);
        if (path === undefined) return client.readData(uri);
        if (roots.length === 0) return diskHost([await rootOf(path, process.cwd())]).readData(uri);
        return (disk ??= diskHost(roots)).readData(uri);
      },
      async folder(uri) {
        const path = pathOfUri(uri);
        const host = path === undefined ? client : roots.length === 0 ? diskHost([await rootOf(path, process.cwd())]) : (disk ??= diskHost(roots));
        return host.folder?.(uri) ?? { entries: [] };
      },
      async open(uri) {
        const path = pathOfUri(uri);
        const own = path === undefined ? client : roots.length === 0 ? diskHost([await rootOf(path, process.cwd())]) : (disk ??= diskHost(roots));
        return own.open ? own.open(uri) : { problem: "unreadable" };
      },
      list: (uri) => (pathOfUri(uri) === undefined ? client.list(uri) : (disk ??= diskHost(roots)).list(uri)),
    },
  };
}
