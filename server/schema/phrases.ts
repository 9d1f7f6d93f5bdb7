// Every declaration and statement: its word, what its head holds, what its block holds. Knows the vocabulary, not the grammar.
import { BUILD, CARD, ENGINE } from "./engine.ts";
import { FASTENER } from "./fastener.ts";
import { LOG, PLAN, PULL, RUN, STEP, TUNE } from "./records.ts";
import { SHOP, WRENCH } from "./shop.ts";
import type { HeadRole, PhraseSchema } from "./types.ts";

const TITLE: HeadRole = { role: "title", words: "What people call it.", optional: true, takes: "string" };
const GOOD_FOR: HeadRole = { role: "for", words: "The engine it is made for, or `any`.", after: "for", optional: true, many: true, takes: "name" };
const ON_DATE: HeadRole = { role: "date", words: "The day, year first.", after: "on", optional: true, takes: "date" };
const PRIVATE: HeadRole = { role: "private", words: "`private`: left out of a sheet that is made for everybody.", optional: true, takes: "word" };
const BY: HeadRole = { role: "by", words: "Who.", after: "by", optional: true, takes: "string" };

export const PHRASES: Readonly<Record<string, PhraseSchema>> = {
  use: { word: "use", words: "Makes everything that another file declares known here.", head: [{ role: "file", words: "Path of the file, from this one.", takes: "string" }], example: 'use "../engines/dunlin-18.tappet"' },
  engine: { word: "engine", words: "Declares an engine as its maker built it.", head: [{ role: "name", words: "Name it is known by in files.", takes: "name" }, TITLE], block: ENGINE, example: 'engine dunlin-18 "Ashdown Dunlin 1.8, 12-valve" { … }' },
  part: {
    word: "part",
    words: "Declares a part that can be fitted, with the figures on its card and what it asks of the engine.",
    head: [{ role: "kind", words: "Kind of part: camshaft, valve-spring …", takes: "word" }, { role: "name", words: "Name it is known by in files.", takes: "name" }, TITLE, GOOD_FOR],
    example: 'part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 { … }',
  },
  card: {
    word: "card",
    words: "Declares figures copied from one place.",
    head: [
      { role: "name", words: "Name it is known by in files.", takes: "name" },
      TITLE,
      { ...GOOD_FOR, words: "The engine it is good for, or `any`." },
      { role: "scope", words: "The part of the engine it is good for: a block's name, such as `bottom-end`.", optional: true, many: true, takes: "word" },
    ],
    block: CARD,
    example: "card gear-bolt for dunlin-18 { … }",
  },
  build: {
    word: "build",
    words: "Declares one engine as it is being built.",
    head: [{ role: "name", words: "Name it is known by in files.", takes: "name" }, TITLE, { role: "engine", words: "The engine it starts from.", after: "on", takes: "name" }],
    block: BUILD,
    example: 'build wren-hill-2 "Wren hill-climb car, second season" on dunlin-18 { … }',
  },
  shop: { word: "shop", words: "Describes the workshop.", head: [{ role: "name", words: "Name of the workshop.", optional: true, takes: "name" }, TITLE], block: SHOP, example: 'shop { wrench big { range: 40 .. 200 N·m } }' },
  wrench: { word: "wrench", words: "A torque wrench of the shop.", head: [{ role: "name", words: "What it is called.", takes: "name" }, TITLE], block: WRENCH, example: "wrench big { range: 40 .. 200 N·m; accuracy: 4 % }" },

  fit: {
    word: "fit",
    words: "Fits a declared part to this build; its block says how it is set.",
    head: [
      { role: "part", words: "Name of the part.", takes: "name" },
      { role: "side", words: "The side it serves, where an engine has one a side.", after: "for", optional: true, takes: "word" },
      ON_DATE,
    ],
    example: "fit vernier-18 { set: 3 deg crank retarded }",
  },
  follow: { word: "follow", words: "Takes the figures of a card.", head: [{ role: "card", words: "Name of the card.", takes: "name" }], example: "follow gear-bolt" },
  needs: {
    word: "needs",
    words: "What this part asks of the build it goes into.",
    head: [
      { role: "thing", words: "A kind of part, or `tune`, or a computed value.", takes: "word" },
      { role: "when", words: "`after fitting`: to be done once the part is in.", after: "after", optional: true, takes: "word" },
      { role: "condition", words: "What must hold of it.", after: "where", optional: true, takes: "condition" },
    ],
    example: "needs valve-spring where coil-bind-margin >= 1.5 mm",
  },
  replaces: { word: "replaces", words: "Another kind of part whose place this one takes as well.", head: [{ role: "thing", words: "Kind of part.", many: true, takes: "word" }], example: "replaces carburettor" },
  check: {
    word: "check",
    words: "A rule of your own: must hold for this build.",
    head: [
      { role: "name", words: "What it is about.", optional: true, takes: "string" },
      { role: "condition", words: "A value, a comparison, a figure.", takes: "condition" },
      { role: "reason", words: "Why.", after: "because", optional: true, takes: "string" },
    ],
    example: 'check "cast pistons" piston-speed.mean <= 20 m/s',
  },
  waive: {
    word: "waive",
    words: "Accepts a finding, with a reason, beside the thing it is about; it shows on the sheet.",
    head: [
      { role: "rule", words: "Id of the rule.", takes: "name" },
      { role: "thing", words: "What it is waived for, where several are meant.", after: "for", optional: true, takes: "name" },
      { role: "value", words: "The value that was accepted: past it the waiver no longer holds.", after: "at", optional: true, takes: "figure" },
      { role: "reason", words: "Why it is accepted.", after: "because", takes: "string" },
      { role: "until", words: "The day it ends.", after: "until", optional: true, takes: "date" },
    ],
    example: 'waive ring-gap-top because "measured twice, maker confirmed by letter" until 2027-09-01',
  },
  measured: {
    word: "measured",
    words: "What was measured on this engine, and when. It never overwrites what was asked for.",
    head: [
      { role: "what", words: "What was measured.", takes: "word" },
      { role: "state", words: "In what state, where it matters: cold, hot, dry …", optional: true, many: true, takes: "word" },
      { role: "of", words: "Which fastener, for stretch and the like.", after: "for", optional: true, takes: "name" },
      { ...ON_DATE, optional: false },
      { role: "before", words: "A step or event it was taken before: `before teardown`.", after: "before", optional: true, takes: "word" },
      { role: "after", words: "A step or event it was taken after.", after: "after", optional: true, takes: "word" },
    ],
    example: "measured lash cold on 2027-03-14 { … }",
  },
  plan: { word: "plan", words: "The order of work.", head: [{ role: "name", words: "Name of the plan.", optional: true, takes: "name" }, TITLE], block: PLAN, example: "plan { job: camshaft-change }" },
  step: {
    word: "step",
    words: "One step of the work.",
    head: [
      { role: "name", words: "Name of the step.", takes: "name" },
      { role: "title", words: "What is done, in a few words.", optional: true, takes: "string" },
      { role: "after", words: "Steps that come before it.", after: "after", optional: true, many: true, takes: "name" },
      { role: "before", words: "Steps that wait for it.", after: "before", optional: true, many: true, takes: "name" },
    ],
    block: STEP,
    example: 'step degree-cam "Degree the cam" after gear-on',
  },
  done: { word: "done", words: "Says that a step was done, and when.", head: [{ role: "step", words: "Name of the step.", many: true, takes: "name" }, { ...ON_DATE, optional: false }, BY], example: "done shaft-in on 2027-03-13" },
  run: { word: "run", words: "Time that the engine ran.", head: [{ role: "name", words: "What it was: first-start, running-in, shakedown …", takes: "name" }, { ...ON_DATE, optional: false }], block: RUN, example: "run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min }" },
  pull: { word: "pull", words: "A full-load run on rollers or an engine brake.", head: [{ role: "name", words: "Name of the pull.", optional: true, takes: "name" }, { ...ON_DATE, optional: false }], block: PULL, example: "pull on 2027-04-02 { at: wheels; correction: none; … }" },
  log: { word: "log", words: "A recording in a CSV file.", head: [{ role: "file", words: "Path of the file, from this one.", takes: "string" }, ON_DATE], block: LOG, example: 'log "runs/2027-04-05.csv" on 2027-04-05 { rpm: "Engine speed"; afr: "Wideband" }' },
  tune: { word: "tune", words: "How fuel and spark are set.", head: [{ role: "file", words: "Path of the tune file, where there is one.", optional: true, takes: "string" }, ON_DATE], block: TUNE, example: 'tune "tunes/wren-2a.bin" { date: 2027-04-05; made-for: #3f9c21d07a4e }' },
  fastener: { word: "fastener", words: "A set of bolts, studs or nuts.", head: [{ role: "name", words: "What they hold: head-bolt, rod-bolt, cam-cap …", takes: "name" }, TITLE], block: FASTENER, example: "fastener head-bolt { thread: M11x1.5; class: 10.9; tighten: 30 N·m oiled, then 90 deg }" },
  photo: { word: "photo", words: "A picture kept as evidence, beside the figure it proves.", head: [PRIVATE, { role: "file", words: "Path of the picture.", takes: "string" }, { role: "caption", words: "What it shows.", optional: true, takes: "string" }, ON_DATE, BY], example: 'photo "photos/lobe-3.jpg" "lobe 3 before"' },
  note: { word: "note", words: "Something to remember, kept where it belongs.", head: [PRIVATE, { role: "text", words: "The note.", takes: "string" }, ON_DATE, BY], example: 'note "dowel was tight, eased with a stone"' },
  document: { word: "document", words: "A paper kept as evidence: a card, a leaflet, a printout, a letter.", head: [PRIVATE, { role: "file", words: "Path of the file.", takes: "string" }, { role: "caption", words: "What it is.", optional: true, takes: "string" }, ON_DATE, BY], example: 'document "papers/cam-card.pdf" "the card in the box"' },
};

/** What may stand at the top of a file. */
export const DECLARATIONS = ["use", "engine", "part", "card", "build", "shop"] as const;
