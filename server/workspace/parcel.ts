// What was found in files as plain data that one thread can hand to another, and read back into what reports are printed from. Knows no thread.
import type { DeclarationTree } from "../../grammar/tree.ts";
import { lineStarts } from "../../grammar/source-file.ts";
import type { Declaration } from "../model/declaration.ts";
import type { Unreadable } from "../model/project.ts";
import type { Finding } from "../rules/finding.ts";
import type { CheckedFile } from "../report/checked.ts";
import { type NameOf, atlasOver } from "../report/place.ts";
import type { Analysis } from "./analyse.ts";
import { declarationOf } from "./load.ts";

/** A file and what was found in it. Its trees stand for those that it was read into: they hold nothing, and are the same objects throughout a parcel. */
export interface PackedFile extends Omit<CheckedFile, "atlas"> {
  /** Where the rules of files looked at files that this one does not see: what they said. It holds only for the files that it was found among. */
  readonly everywhere: string | undefined;
}

export interface Parcel {
  readonly files: readonly PackedFile[];
  /** Where each tree lies. */
  readonly places: readonly (readonly [tree: DeclarationTree, uri: string, start: number])[];
  /** The texts of the files in which they lie. */
  readonly texts: ReadonlyMap<string, string>;
  readonly unreadable: ReadonlyMap<string, Unreadable>;
}

/** Everything that was found in the files of an analysis. */
export function pack(analysis: Analysis): Parcel {
  const { files, unreadable } = analysis.project;
  const stands = new Map<DeclarationTree, DeclarationTree>();
  const places: [DeclarationTree, string, number][] = [];
  const texts = new Map<string, string>();
  const treeFor = (tree: DeclarationTree): DeclarationTree => {
    let bare = stands.get(tree);
    if (!bare) {
      stands.set(tree, (bare = bareTree()));
      const at = analysis.places.placeOf(tree);
      const text = at && files.get(at.uri)?.source.text;
      if (at && text !== undefined) {
        places.push([bare, at.uri, at.start]);
        texts.set(at.uri, text);
      }
    }
    return bare;
  };
  const subjects = new Map<Declaration, Declaration>();
  const subjectFor = (subject: Declaration): Declaration => {
    let bare = subjects.get(subject);
    if (!bare) subjects.set(subject, (bare = { ...declarationOf(treeFor(subject.tree)), sort: subject.sort, ...(subject.name && { name: subject.name }), ...(subject.title !== undefined && { title: subject.title }) }));
    return bare;
  };
  const packed = (f: Finding): Finding => ({
    ...f, at: { ...f.at, tree: treeFor(f.at.tree) }, related: f.related.map((r) => ({ ...r, at: { ...r.at, tree: treeFor(r.at.tree) } })),
    fixes: f.fixes.map((fix) => ({ ...fix, edits: fix.edits.map((edit) => ({ ...edit, tree: treeFor(edit.tree) })) })), ...(f.subject && { subject: subjectFor(f.subject) }),
  });
  return {
    files: [...files.keys()].flatMap((uri) => {
      const result = analysis.fileResult(uri);
      return result ? [{
        uri, findings: result.findings.map(packed), waived: result.waived.map(packed), off: result.off.map(packed), everywhere: result.everywhere,
        subjects: result.subjects.map(({ build, unchecked }) => ({ build: { subject: subjectFor(build.subject) }, unchecked })),
      }] : [];
    }),
    places, texts, unreadable,
  };
}

function bareTree(): DeclarationTree {
  return { text: "", stray: [], comments: [], problems: [] };
}

/** The files of a parcel as reports are printed from. */
export function unpack({ files, places, texts }: Parcel, nameOf: NameOf): readonly (CheckedFile & PackedFile)[] {
  const at = new Map(places.map(([tree, uri, start]) => [tree, { uri, start }]));
  const starts = new Map<string, readonly number[]>();
  const textOf = (uri: string) => {
    const text = texts.get(uri);
    let lines = starts.get(uri);
    if (text !== undefined && !lines) starts.set(uri, (lines = lineStarts(text)));
    return text !== undefined && lines ? { text, starts: lines } : undefined;
  };
  const atlas = atlasOver({ placeOf: (tree) => at.get(tree) }, textOf, nameOf);
  return files.map((file) => ({ ...file, atlas }));
}
