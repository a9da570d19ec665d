// The line to the shop's machine: edits go out in order, wait while nobody answers, and are merged with what others did.
import { signal } from "@preact/signals";
import type { Edit } from "../core/answers";
import { core } from "../core/core";
import { Refused } from "../shop/call";
import { shop } from "../shop/shop";

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
  /// The job here after it.
  after: string;
}
const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

/// `life`: of the book that it was read from.
let known = { jobId: "", rev: 0, text: "", life: "" };
let ours = "";
let queue: Waiting[] = [];
let sending = false;
let takeOver: (text: string) => void = () => undefined;

export function onOthers(take: (text: string) => void): void {
  takeOver = take;
}

/// When all that was done to the job before has been kept: only then is another one followed.
export async function drained(): Promise<void> {
  while (queue.length > 0 || sending) await pause(100);
}

/// Begins with a job as the machine has it.
export function followJob(jobId: string, rev: number, text: string, life: string): void {
  known = { jobId, rev, text, life };
  ours = text;
  queue = [];
  waiting.value = 0;
  connection.value = "kept";
}

/// The machine's history keeps names short.
const longestName = 60;

const opId = (): string => Array.from(crypto.getRandomValues(new Uint32Array(3)), (n) => n.toString(36)).join("-");

export function queueEdits(jobId: string, name: string, after: string, edits: Edit[]): void {
  ours = after;
  queue.push({ jobId, opId: opId(), name, edits, after });
  waiting.value = queue.length;
  void sendNext();
}

async function sendNext(): Promise<void> {
  if (sending) return;
  sending = true;
  let wait = 500;
  for (let next = queue[0]; next; next = queue[0]) {
    if (connection.value !== "away") connection.value = "keeping";
    try {
      const answer = await shop.send(next.jobId, next.opId, known.rev, next.name.slice(0, longestName), next.edits, known.life);
      queue.shift();
      waiting.value = queue.length;
      wait = 500;
      if (String(answer.head.id) === known.jobId) settle(answer.head.rev, answer.job, next.after);
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

/// The machine answered with the job as it now stands there. Where that is not what stood here after what was sent, others
/// were at it too: what has been done here since is put on top of theirs, and goes out as one action on their revision.
function settle(rev: number, text: string, sent: string): void {
  known = { ...known, rev, text };
  if (text === sent) return;
  const merged = core.merge(sent, ours, text);
  if (!merged.ok) return;
  if (queue.length > 0) {
    const name = queue.map((w) => w.name).join("; ");
    queue = merged.edits_of_theirs.length
      ? [{ jobId: known.jobId, opId: opId(), name, edits: merged.edits_of_theirs, after: merged.job }]
      : [];
    waiting.value = queue.length;
  }
  ours = merged.job;
  takeOver(merged.job);
}

/// After a refusal: the job as the machine has it.
export async function retryAfterRefusal(): Promise<void> {
  try {
    const kept = await shop.open(known.jobId);
    followJob(known.jobId, kept.head.rev, kept.job, kept.life);
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
    // A copy has taken the place of the book: nothing here is of it any more.
    if (kept.life !== known.life && String(kept.head.id) === known.jobId && queue.length === 0) return location.reload();
    const ofThis = String(kept.head.id) === known.jobId && kept.head.rev > known.rev;
    if (ofThis && queue.length === 0) settle(kept.head.rev, kept.job, known.text);
  } catch (fault) {
    // A job that the book does not have any more is the end of this page as it stands.
    if (fault instanceof Refused && fault.status === 404 && queue.length === 0) return location.reload();
    // The next edit or piece of news tries again.
  }
}
