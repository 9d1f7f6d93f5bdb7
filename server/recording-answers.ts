// The language server's reading of recordings: in the background, one after the other, with progress and cancel, and never waited for by an
// answer to a keystroke. Wiring only; knows nothing of engines.
import type { Connection } from "vscode-languageserver";
import type { Recording } from "./model/effective.ts";
import type { Host } from "./workspace/host.ts";
import { readRecording } from "./workspace/recordings.ts";
import type { Workspace } from "./workspace/workspace.ts";

/** Smaller files are read before anybody could look at a bar. In bytes. */
const WORTH_A_BAR = 4 * 1024 * 1024;

export interface Hearing {
  /** Something changed: what is wanted and was not read is read; what is being read and no longer wanted is left. */
  wanted(): void;
  /** Resolves when everything wanted has been read. */
  heard(): Promise<void>;
}

export interface HearingOptions {
  readonly host: Host;
  /** Resolves when the files that builds stand on have been read. */
  settled(): Promise<unknown>;
  /** A recording came to something: whose findings may be others now. */
  tell(uris: readonly string[]): Promise<void>;
  guard<T>(work: () => Promise<T> | T, otherwise: T): Promise<T>;
}

export function hearRecordings(connection: Connection, workspace: Workspace, { host, settled, tell, guard }: HearingOptions): Hearing {
  let reading: { readonly key: string; left: boolean } | undefined;
  let busy: Promise<void> | undefined;

  const read = async (recording: Recording): Promise<void> => {
    const own = { key: recording.key, left: false };
    reading = own;
    let progress: Awaited<ReturnType<typeof connection.window.createWorkDoneProgress>> | undefined;
    let shown = -1;
    let asked = false;
    let over = false;
    const begin = async (size: number | undefined) => {
      const bar = await connection.window.createWorkDoneProgress();
      if (over) return;
      progress = bar;
      progress.begin(`Reading ${recording.path.text}`, size === undefined ? undefined : 0, undefined, true);
    };
    const outcome = await readRecording(host, recording, {
      cancelled: () => own.left || progress?.token.isCancellationRequested === true,
      progress(share, done, size) {
        if (!asked && (size ?? done) > WORTH_A_BAR) {
          asked = true;
          // A client that will show no bar is read for without one.
          begin(size).catch(() => undefined);
        }
        const percent = share === undefined ? -1 : Math.floor(share * 100);
        if (percent <= shown) return;
        shown = percent;
        progress?.report(percent);
      },
    });
    over = true;
    progress?.done();
    reading = undefined;
    // What nobody wants any more has come to nothing; what the person stopped stays stopped until the file or the question is another.
    if (own.left) return;
    workspace.hear(recording, outcome);
    await tell(workspace.usersOf(recording.uri));
  };

  const all = async () => {
    for (;;) {
      await settled();
      const [next] = workspace.unheard();
      if (!next) return;
      await read(next);
    }
  };

  let again = false;
  const start = () => {
    again = true;
    return (busy ??= (async () => {
      while (again) {
        again = false;
        await guard(all, undefined);
      }
      busy = undefined;
    })());
  };

  return {
    wanted() {
      const unheard = workspace.unheard();
      if (reading && !unheard.some((r) => r.key === reading?.key)) reading.left = true;
      void start();
    },
    async heard() {
      await start();
    },
  };
}
