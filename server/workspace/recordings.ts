// Recordings that builds name, read through a host piece by piece and summed up. Bounded in memory however long they are; knows no protocol,
// no clock and no rule.
import { effectiveOf, type Recording } from "../model/effective.ts";
import { type Project, type ProjectFile, resolveUse, scopeOf } from "../model/project.ts";
import type { Outcome } from "../recording/summary.ts";
import { summariser } from "../recording/summarise.ts";
import { recordingsWanted } from "../rules/recording.ts";
import type { Host } from "./host.ts";

/** Every recording that a build of these files names, each file and question once. */
export function recordingsOf(project: Project, uris: Iterable<string> = project.files.keys()): readonly Recording[] {
  const wanted = new Map<string, Recording>();
  for (const uri of uris)
    for (const declaration of project.files.get(uri)?.declarations ?? []) {
      if (declaration.sort !== "build" || !declaration.records.some((r) => r.word === "log")) continue;
      for (const recording of recordingsWanted(effectiveOf(declaration, scopeOf(project, uri)), uri)) wanted.set(recording.key, recording);
    }
  return [...wanted.values()];
}

/** The files of the recordings that a file names. */
export function logsNamedBy(file: ProjectFile): readonly string[] {
  return file.declarations.flatMap(({ records }) => records.flatMap((record) => {
    const path = record.word === "log" ? record.head.find((part) => part.kind === "string") : undefined;
    return path?.kind === "string" && path.text.trim() !== "" ? [resolveUse(file.uri, path.text)] : [];
  }));
}

export interface Watching {
  /** The share read so far, from 0 to 1, after each piece; nothing where the size is not known. */
  readonly progress?: (share: number | undefined, read: number, size: number | undefined) => void;
  /** Asked after each piece. */
  readonly cancelled?: () => boolean;
  /** However it ended. */
  readonly done?: () => void;
}

/** Reads one recording to its end. Never rejects: what goes wrong is what it came to. */
export async function readRecording(host: Host, recording: Recording, { progress, cancelled }: Watching = {}): Promise<Outcome> {
  if (!host.open) return { problem: { sort: "unreadable" } };
  const opened = await host.open(recording.uri);
  if ("problem" in opened) return { problem: { sort: opened.problem } };
  const reader = summariser(recording.question);
  let read = 0;
  for await (const piece of opened.pieces) {
    if (cancelled?.()) return { problem: { sort: "cancelled" } };
    if ("problem" in piece) return { problem: { sort: piece.problem } };
    read += piece.bytes;
    progress?.(opened.size === undefined || opened.size === 0 ? undefined : Math.min(1, read / opened.size), read, opened.size);
    if (!reader.push(piece.text)) break;
  }
  return reader.end();
}

/** A project with every recording of it read, one after the other. `watch` is told how each one goes. */
export async function withRecordings(host: Host, project: Project, watch?: (recording: Recording) => Watching): Promise<Project> {
  const recordings = new Map<string, Outcome>();
  for (const recording of recordingsOf(project)) {
    const watching = watch?.(recording);
    recordings.set(recording.key, await readRecording(host, recording, watching));
    watching?.done?.();
  }
  return recordings.size > 0 ? { ...project, recordings } : project;
}
