// All state, in one place. Screens read signals and call actions by name; nothing else changes a job.
import { batch, computed, effect, signal } from "@preact/signals";
import type { Derived, Edit, Finding, GivenLayout, Placement, SaidJob, Space, Units } from "../core/answers";
import { core } from "../core/core";
import { noHistory, stepAgain, stepBack, withStep, type History, type Step } from "./history";
import { sharing } from "./same";
import { words } from "../words/en";
import { connection, queueEdits } from "./line";

export interface OpenJob {
  id: string;
  text: string;
  said: SaidJob;
}

/// What is pointed at on the drawing and in the lists: as a finding's subject names it.
export interface Chosen {
  kind: string;
  id: string;
}

export const openJob = signal<OpenJob | null>(null);
export const history = signal<History>(noHistory);
export const chosen = signal<Chosen | null>(null);
/// A sentence that a person should hear now: said aloud by screen readers, shown for a while.
export const said = signal<{ text: string; bad: boolean } | null>(null);
/// A layout that is looked at and not kept yet.
export const triedLayout = signal<GivenLayout | null>(null);
/// Small pieces beside the layout that is shown, as state/fillers.ts has them from the shop's machine.
export const fillers = signal<Placement[] | null>(null);
/// The edits that what is being typed would be, were it entered; null: nothing is typed.
export const preview = signal<Edit[] | null>(null);

const emptyDerived: Derived = {
  ok: true,
  units: "in",
  mark_on_back: true,
  may_cut: false,
  layout_fingerprint: "",
  stages: [],
  findings: [],
  overridden: [],
  spaces: [],
  panels: [],
  match_marks: [],
  pieces: [],
  roll: null,
  takeoff: null,
};

function derive(text: string, layout: GivenLayout | null, beside: Placement[] | null): Derived {
  const answer = core.derive(text, layout, beside);
  return answer.ok ? answer : { ...emptyDerived, findings: answer.findings };
}

let before: Derived = emptyDerived;
export const derived = computed<Derived>(() => {
  before = openJob.value ? sharing(before, derive(openJob.value.text, triedLayout.value, fillers.value)) : emptyDerived;
  return before;
});
let drawnBefore: Space[] = [];
/// The spaces as they are drawn: with the line that is being typed.
export const drawnSpaces = computed<Space[]>(() => {
  const job = openJob.value;
  const answer = preview.value && job ? core.measureTyped(job.text, preview.value) : null;
  drawnBefore = answer?.ok ? sharing(drawnBefore, answer.spaces) : derived.value.spaces;
  return drawnBefore;
});

// ---- how this screen shows things; kept on this device alone

function kept<T extends string>(key: string, first: T, all: readonly T[]) {
  let start = first;
  try {
    const there = localStorage.getItem(key);
    if (all.includes(there as T)) start = there as T;
  } catch {
    // A browser that keeps nothing still works.
  }
  const s = signal<T>(start);
  effect(() => {
    try {
      localStorage.setItem(key, s.value);
    } catch {
      // As above.
    }
  });
  return s;
}
export const shownUnits = kept<"job" | Units>("spile.units", "job", ["job", "in", "mm"]);
export const light = kept<"auto" | "light" | "dark">("spile.light", "auto", ["auto", "light", "dark"]);
effect(() => {
  if (light.value === "auto") delete document.documentElement.dataset.light;
  else document.documentElement.dataset.light = light.value;
});

export const units = computed<Units>(() => (shownUnits.value === "job" ? derived.value.units : shownUnits.value));

// ---- actions

export function tell(text: string, bad = false): void {
  said.value = { text, bad };
}

function tellFindings(findings: Finding[]): void {
  const first = findings[0];
  tell(first ? `${first.says} ${first.to_do}`.trim() : words.didNotWork, true);
}

function setJob(text: string, saidJob: SaidJob): void {
  const job = openJob.value;
  if (job) openJob.value = { ...job, text, said: saidJob };
}

/// Shows a job as it came from the shop's machine.
export function show(id: string, text: string): boolean {
  const answer = core.open(text);
  if (!answer.ok) {
    tellFindings(answer.findings);
    return false;
  }
  batch(() => {
    openJob.value = { id, text: answer.job, said: answer.said };
    history.value = noHistory;
    chosen.value = null;
    preview.value = null;
    triedLayout.value = null;
  });
  return true;
}

export function leave(): void {
  batch(() => {
    openJob.value = null;
    history.value = noHistory;
    chosen.value = null;
    preview.value = null;
    triedLayout.value = null;
  });
}

/// What somebody else did meanwhile, already merged with ours by the line to the shop's machine.
export function takeOver(text: string): void {
  const answer = core.open(text);
  if (answer.ok) setJob(answer.job, answer.said);
}

/// One action of a person: its name is what undo says.
export function act(name: string, edits: Edit[]): boolean {
  const job = openJob.value;
  if (!job || edits.length === 0) return false;
  return entered(name, job, core.apply(job.text, edits));
}

/// What would keep this panel from being drawn once the edits were made, in the core's words. Nothing is changed.
export function wouldStop(panel: string, edits: Edit[]): Finding[] {
  const job = openJob.value;
  if (!job) return [];
  const after = core.apply(job.text, edits);
  if (!after.ok) return after.findings;
  const then = core.derive(after.job, null);
  if (!then.ok) return then.findings;
  if (then.panels.some((p) => p.id === panel)) return [];
  const stops = then.findings.filter((f) => f.severity === "stop");
  const ofIt = stops.filter((f) => f.subject.kind !== "piece" && f.subject.id.split("/")[0] === panel);
  return ofIt.length > 0 ? ofIt : stops;
}

/// The first of these as one sentence; empty: nothing.
export function inTheWay(panel: string, edits: Edit[]): string {
  const first = wouldStop(panel, edits)[0];
  return first ? `${first.says} ${first.to_do}`.trim() : "";
}

/// An action whose edits the core itself worked out.
export function entered(name: string, job: OpenJob, answer: ReturnType<typeof core.apply>): boolean {
  if (!answer.ok) {
    tellFindings(answer.findings);
    return false;
  }
  if (answer.edits.length === 0) return true;
  batch(() => {
    setJob(answer.job, answer.said);
    history.value = withStep(history.value, { name, before: job.text, after: answer.job });
    preview.value = null;
  });
  queueEdits(job.id, name, answer.job, answer.edits);
  return true;
}

function goOver(step: Step, back: boolean): boolean {
  const job = openJob.value;
  if (!job) return false;
  const answer = back ? core.merge(step.after, step.before, job.text) : core.merge(step.before, step.after, job.text);
  if (!answer.ok) {
    tellFindings(answer.findings);
    return false;
  }
  setJob(answer.job, answer.said);
  queueEdits(job.id, back ? words.undone(step.name) : step.name, answer.job, answer.edits_of_theirs);
  return true;
}

export function undo(): void {
  const last = stepBack(history.value);
  if (!last || !goOver(last.step, true)) return;
  history.value = { done: last.rest, undone: [...history.value.undone, last.step] };
  tell(words.takenBack(last.step.name));
}

export function redo(): void {
  const next = stepAgain(history.value);
  if (!next || !goOver(next.step, false)) return;
  history.value = { done: [...history.value.done, next.step], undone: next.rest };
  tell(words.doneAgain(next.step.name));
}

export function choose(kind: string, id: string): void {
  chosen.value = { kind, id };
}

export { connection };
