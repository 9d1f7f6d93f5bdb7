// Files checked on as many processors as there are and as pays: divided into shares, one for this thread and one for each other. What is found is
// the same as in one thread, in the same order. Knows Node and its threads; knows no report.
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { Worker, parentPort, workerData } from "node:worker_threads";
import { type Refused, filesAsked, namesFrom, tellProgress, unreadSentence } from "./command-files.ts";
import type { Recording } from "./model/effective.ts";
import type { CheckedFile } from "./report/checked.ts";
import { type Analysis, analyse, isOtherwiseHere } from "./workspace/analyse.ts";
import { checkedIn, inOrder } from "./workspace/checked-files.ts";
import { diskHost } from "./workspace/disk-host.ts";
import type { Host, Reading } from "./workspace/host.ts";
import { loadProject, readAll } from "./workspace/load.ts";
import { type Parcel, pack, unpack } from "./workspace/parcel.ts";
import { type Watching, withRecordings } from "./workspace/recordings.ts";
import { sharesOf } from "./workspace/shares.ts";

export interface Checked {
  /** Every file, those that were only used too, in the order of their names. */
  readonly files: readonly CheckedFile[];
  /** A sentence for each file that was asked for and could not be read. */
  readonly unread: readonly string[];
}

/** Files below one root folder that are checked together, with everything that was read below it already. */
interface Job {
  readonly root: string;
  readonly uris: readonly string[];
  readonly readings: ReadonlyMap<string, Reading>;
}

interface Order {
  readonly jobs: readonly Job[];
  readonly asOf: string;
}

/**
 * More text than this is checked in shares of about this length: what was read for one is let go before the next, which costs a tenth less time
 * and a third less memory on 2,000 files. In characters.
 */
const SHARE = 100_000;

/** With fewer shares for each, another thread costs more than it takes off: it compiles the same code and meets every rule cold. */
const WORTH_A_THREAD = 3;

/** Checks what paths name, and everything that is used. `-` is the text given as `input`. */
export async function checkPaths(paths: readonly string[], workingFolder: string, asOf: string, input?: { readonly text: string; readonly filename: string }): Promise<Checked | Refused> {
  const asked = await filesAsked(paths, workingFolder, input);
  if ("refusal" in asked) return asked;
  const nameOf = namesFrom(workingFolder);
  const whole: Job[] = [];
  for (const [root, uris] of asked.byRoot) whole.push({ root, uris, readings: await readAll(asked.hostOf(root), uris) });
  const jobs = whole.flatMap(divided);
  const threads = Math.max(1, Math.min(availableParallelism(), Math.floor(jobs.length / WORTH_A_THREAD)));
  const orders = Array.from({ length: threads - 1 }, (_, i) => jobs.filter((_job, n) => n % threads === i + 1));
  const answers = orders.map((order) => inThread({ jobs: order, asOf }));

  const found = new Map(whole.map(({ root }) => [root, [] as (readonly FoundFile[])[]]));
  const here = async (job: Job) => found.get(job.root)?.push(unpack(pack(await judge(job, asOf, process.stderr.isTTY ? tellProgress : undefined)), nameOf));
  for (const [n, job] of jobs.entries()) if (n % threads === 0) await here(job);
  for (const [i, order] of orders.entries()) {
    const parcels = await answers[i];
    for (const [n, job] of order.entries()) {
      const parcel = parcels?.[n];
      // What a thread could not do is done here.
      if (parcel) found.get(job.root)?.push(unpack(parcel, nameOf));
      else await here(job);
    }
  }
  const checked: { given: ReadonlySet<string>; files: readonly CheckedFile[] }[] = [];
  for (const job of whole) {
    const files = found.get(job.root)?.flat() ?? [];
    const given = new Set(job.uris);
    // A name that no file in sight declares may stand in another share: what rests on that holds only among all files.
    const unsure = jobs.some(({ root, uris }) => root === job.root && uris.length < job.uris.length) ? files.filter((file) => file.everywhere !== undefined) : [];
    const all = unsure.length > 0 ? await judge(job, asOf) : undefined;
    const otherwise = new Set(all && unsure.flatMap(({ uri, everywhere }) => (isOtherwiseHere(all, uri, everywhere) ? [uri] : [])));
    checked.push({ given, files: files.filter(({ uri }) => !otherwise.has(uri)) });
    if (all && otherwise.size > 0) checked.push({ given, files: checkedIn(all, nameOf, otherwise) });
  }
  return { files: inOrder(checked, nameOf), unread: whole.flatMap(({ readings }) => [...readings].flatMap(([uri, reading]) => ("problem" in reading ? [unreadSentence(nameOf(uri), reading.problem)] : []))) };
}

type FoundFile = CheckedFile & { readonly everywhere: string | undefined };

/** A job in shares, where it is long enough. */
function divided(job: Job): readonly Job[] {
  const texts = [...job.readings].flatMap(([uri, reading]) => ("text" in reading ? [{ uri, text: reading.text }] : []));
  const many = Math.floor(texts.reduce((sum, { text }) => sum + text.length, 0) / SHARE);
  return many < 2 ? [job] : sharesOf(texts, many).map((share) => ({ ...job, uris: share.map(({ uri }) => uri) }));
}

async function judge({ root, uris, readings }: Job, asOf: string, watch?: (recording: Recording) => Watching): Promise<Analysis> {
  const disk = diskHost([root]);
  const host: Host = {
    ...disk,
    read(uri) {
      const known = readings.get(uri);
      return known ? Promise.resolve(known) : disk.read(uri);
    },
  };
  return analyse(await withRecordings(host, await loadProject(host, uris), watch), asOf, { keeps: () => false });
}

/** What another thread makes of it; nothing where it could not, whatever the reason: memory that it is not given, code that is not there. */
function inThread(order: Order): Promise<readonly Parcel[] | undefined> {
  return new Promise((resolve) => {
    try {
      const worker = new Worker(join(__dirname, "command-line.cjs"), { argv: ["check"], workerData: order });
      worker.once("message", (parcels: readonly Parcel[]) => resolve(parcels));
      worker.once("error", () => resolve(undefined));
      worker.once("messageerror", () => resolve(undefined));
      worker.once("exit", () => resolve(undefined));
    } catch {
      resolve(undefined);
    }
  });
}

/** The other side: what this thread was started for. */
export async function answerOrder(): Promise<void> {
  const { jobs, asOf } = workerData as Order;
  const parcels: Parcel[] = [];
  for (const job of jobs) parcels.push(pack(await judge(job, asOf)));
  parentPort?.postMessage(parcels);
}
