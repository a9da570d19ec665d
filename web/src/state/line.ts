// The line to the shop's machine: edits go out in order, wait while nobody answers, and are merged with what others did.
import { signal } from "@preact/signals";
import type { Edit } from "../core/answers";
import { core } from "../core/core";
import { Refused, shop } from "../shop/shop";

/// "kept": all of it stands on the shop's machine. "keeping": on its way. "away": waiting for the machine to answer.
export const connection = signal<"kept" | "keeping" | "away" | "refused">("kept");
export const whyRefused = signal("");
/// How many actions wait to be kept.
export const waiting = signal(0);

interface Waiting {
  jobId: string;
  opId: string;
  name: string;
  edits: Edit[];
}
let known = { jobId: "", rev: 0, text: "" };
let ours = "";
let queue: Waiting[] = [];
let sending = false;
let takeOver: (text: string) => void = () => undefined;

export function onOthers(take: (text: string) => void): void {
  takeOver = take;
}

/// Begins with a job as the machine has it.
export function followJob(jobId: string, rev: number, text: string): void {
  known = { jobId, rev, text };
  ours = text;
  queue = [];
  waiting.value = 0;
  connection.value = "kept";
}

const opId = (): string => Array.from(crypto.getRandomValues(new Uint32Array(3)), (n) => n.toString(36)).join("-");

export function queueEdits(jobId: string, name: string, after: string, edits: Edit[]): void {
  ours = after;
  queue.push({ jobId, opId: opId(), name, edits });
  waiting.value = queue.length;
  void sendNext();
}

const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

async function sendNext(): Promise<void> {
  if (sending) return;
  sending = true;
  let wait = 500;
  for (let next = queue[0]; next; next = queue[0]) {
    if (connection.value !== "away") connection.value = "keeping";
    try {
      const answer = await shop.send(next.jobId, next.opId, known.rev, next.name, next.edits);
      queue.shift();
      waiting.value = queue.length;
      wait = 500;
      if (String(answer.head.id) === known.jobId) settle(answer.head.rev, answer.job);
    } catch (fault) {
      if (fault instanceof Refused) {
        // Never dropped unseen: the person is told, and what the machine has is shown.
        whyRefused.value = fault.message;
        connection.value = "refused";
        queue = [];
        waiting.value = 0;
        sending = false;
        return;
      }
      connection.value = "away";
      await pause(wait);
      wait = Math.min(wait * 2, 8000);
    }
  }
  connection.value = "kept";
  sending = false;
}

/// The machine answered with the job as it now stands there. With nothing more waiting that is the job; else what is
/// waiting is put on top of it.
function settle(rev: number, text: string): void {
  const base = known.text;
  known = { ...known, rev, text };
  if (text === ours) return;
  if (queue.length > 0) return; // the next answer brings it all together
  const merged = core.merge(base, ours, text);
  if (!merged.ok) return;
  ours = merged.job;
  takeOver(merged.job);
}

/// After a refusal: the job as the machine has it.
export async function retryAfterRefusal(): Promise<void> {
  try {
    const kept = await shop.open(known.jobId);
    followJob(known.jobId, kept.head.rev, kept.job);
    takeOver(kept.job);
  } catch {
    connection.value = "refused";
  }
}

/// Somebody else has changed the job: look at it, unless our own edits are on their way and will bring it.
export async function lookAgain(rev: number): Promise<void> {
  if (rev <= known.rev || queue.length > 0) return;
  try {
    const kept = await shop.open(known.jobId);
    const ofThis = String(kept.head.id) === known.jobId && kept.head.rev > known.rev;
    if (ofThis && queue.length === 0) settle(kept.head.rev, kept.job);
  } catch {
    // The next edit or piece of news tries again.
  }
}
