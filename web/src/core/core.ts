// The core, asked by name. All arithmetic of the trade is behind this; here are only questions and their answers.
import { loadCore as load, type Core } from "../../../wasm/spile.mjs";
import type { Edit, GivenLayout, Placement, Units } from "./answers";

let loaded: Core | null = null;

/// Loads the core. Must have ended before anything is asked.
export async function loadCore(): Promise<void> {
  const address = new URL("core/spile_core.mjs", document.baseURI).href;
  const made = (await import(/* @vite-ignore */ address)) as { default: (options: object) => Promise<unknown> };
  loaded = await load(made.default);
}

const ask: Core["ask"] = (name, question) => {
  if (!loaded) throw new Error("The core was asked before it was loaded.");
  return loaded.ask(name, question);
};

const withLayout = (layout: GivenLayout | null): { layout?: GivenLayout } => (layout ? { layout } : {});
const withFillers = (fillers: Placement[] | null): { fillers?: Placement[] } => (fillers && fillers.length > 0 ? { fillers } : {});

export const core = {
  open: (text: string) => ask("open", { text }),
  apply: (job: string, edits: Edit[]) => ask("apply", { job, edits }),
  merge: (base: string, ours: string, theirs: string) => ask("merge", { base, ours, theirs }),
  between: (from: string, to: string) => ask("between", { from, to }),
  settle: (job: string, id: string, takeOther: boolean) => ask("settle", { job, id, take_other: takeOther }),
  freeId: (job: string, list: string, prefix: string, salt: string) => ask("free_id", { job, list, prefix, salt }),
  derive: (job: string, layout: GivenLayout | null, fillers: Placement[] | null = null) =>
    ask("derive", { job, ...withLayout(layout), ...withFillers(fillers) }),
  measureTyped: (job: string, edits: Edit[]) => ask("measure_typed", { job, edits }),
  checkLayout: (job: string, layout: GivenLayout) => ask("check_layout", { job, layout }),
  slidePiece: (job: string, layout: GivenLayout, piece: string, x_um: number, y_um: number) =>
    ask("slide_piece", { job, layout, piece, x_um, y_um }),
  keepLayout: (job: string, layout: GivenLayout) => ask("keep_layout", { job, layout }),
  letPass: (job: string, code: string, subject: string, reason: string, layout: GivenLayout | null) =>
    ask("let_pass", { job, code, subject, reason, ...withLayout(layout) }),
  proposeJoints: (job: string, panel: string) => ask("propose_joints", { job, panel }),
  sheets: (job: string, layout: GivenLayout | null, fillers: Placement[] | null) =>
    ask("sheets", { job, ...withLayout(layout), ...withFillers(fillers) }),
  page: (job: string, stem: string, page: number, layout: GivenLayout | null, fillers: Placement[] | null) =>
    ask("page", { job, stem, page, ...withLayout(layout), ...withFillers(fillers) }),
  readLength: (text: string, units: Units) => ask("read_length", { text, units }),
  printLengths: (mm: number[], units: Units) => ask("print_lengths", { mm, units }),
  readReading: (line: string, units: Units) => ask("read_reading", { line, units }),
};
