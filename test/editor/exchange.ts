/**
 * The line between a suite inside the editor's extension host and the process outside that runs it: results come out, and
 * requests to do something at the page (the hands) go in and are answered. Loopback HTTP, because that is what the Node host
 * and the web worker host both have. Knows nothing of the browser or of any test.
 */
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";

export type Result = { readonly name: string; readonly state: "passed" | "failed" | "skipped"; readonly why?: string };

/** What a suite says; each message is answered, so the suite's next step comes after the outer process has seen this one. */
export type Message =
  | { readonly kind: "result"; readonly result: Result }
  | { readonly kind: "log"; readonly text: string }
  | { readonly kind: "hand"; readonly step: string; readonly args: readonly unknown[] }
  | { readonly kind: "end" };

export type Answer = { readonly value?: unknown; readonly error?: string };

export type Exchange = {
  readonly url: string;
  /** Fulfilled when the suite says that it is through. */
  readonly ended: Promise<void>;
  readonly results: readonly Result[];
  /** Takes in a result of the outer process's own. */
  add(result: Result): void;
  close(): void;
};

/** What the outer process does when asked for a hand, and after each result before the suite goes on. */
export type Listener = {
  readonly hand: (step: string, args: readonly unknown[]) => Promise<unknown>;
  readonly seen: (result: Result) => Promise<void>;
};

export async function openExchange({ hand, seen }: Listener): Promise<Exchange> {
  const results: Result[] = [];
  const { promise: ended, resolve: end } = Promise.withResolvers<void>();

  async function answer(message: Message): Promise<Answer> {
    switch (message.kind) {
      case "result":
        results.push(message.result);
        console.log(describeResult(message.result));
        await seen(message.result);
        return {};
      case "log":
        console.log(`      ${message.text}`);
        return {};
      case "hand":
        try {
          return { value: await hand(message.step, message.args) };
        } catch (error) {
          return { error: String(error instanceof Error ? error.message : error) };
        }
      case "end":
        end();
        return {};
    }
  }

  async function serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    // The web worker host runs on an origin of its own and asks first.
    response.setHeader("Access-Control-Allow-Origin", "*");
    response.setHeader("Access-Control-Allow-Headers", "*");
    response.setHeader("Access-Control-Allow-Private-Network", "true");
    if (request.method !== "POST") {
      response.end();
      return;
    }
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    const reply = await answer(JSON.parse(Buffer.concat(chunks).toString("utf8")) as Message);
    response.end(JSON.stringify(reply));
  }

  const server = createServer((request, response) => void serve(request, response));
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}/`,
    ended,
    results,
    add(result) {
      results.push(result);
      console.log(describeResult(result));
    },
    close() {
      server.closeAllConnections();
      server.close();
    },
  };
}

function describeResult({ name, state, why }: Result): string {
  const mark = { passed: "✓", failed: "✗", skipped: "-" }[state];
  return why ? `  ${mark} ${name}\n${why.replace(/^/gm, "      ")}` : `  ${mark} ${name}`;
}
