/** The ways in which the extension is run for its editor tests; knows nothing of how a session is started. */

export type SessionName = "installed" | "restricted" | "web" | "desktop";

export type Session = {
  readonly name: SessionName;
  /** The packed extension installed, in the Node host; or unpacked as a development extension in the web worker host. */
  readonly host: "node" | "web";
  /** Whether the folder counts as trusted without asking. */
  readonly trusted: boolean;
};

/** Those that run against the editor's server; the desktop run has a script of its own. */
export const sessions: readonly Session[] = [
  { name: "installed", host: "node", trusted: true },
  { name: "restricted", host: "node", trusted: false },
  { name: "web", host: "web", trusted: true },
];
