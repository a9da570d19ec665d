// Opening, beginning and leaving a job, and following what others do to it.
import { computed, effect, signal } from "@preact/signals";
import { core } from "../core/core";
import type { Units } from "../core/answers";
import { book, type PaperSettings } from "../shop/book";
import { Refused } from "../shop/call";
import { shop, type Search, type SearchNews } from "../shop/shop";
import { drained, followJob, lookAgain, onOthers } from "./line";
import { currentJob, go } from "./route";
import { derived, leave, openJob, show, takeOver, tell } from "./store";

/// What is happening to the job in the address: being fetched, there, or why not.
export const opening = signal<"" | "opening" | "away" | "none">("");
/// The search for a layout, as last heard of.
export const search = signal<Search | null>(null);
/// Length used over the share of the search, for the curve of its progress.
export const progress = signal<{ done: number; used_mm: number }[]>([]);

/// What no layout over one length can be shorter than, and why; null: nobody has proved anything of the pieces as they are now.
export const bound = computed<{ mm: number; reason: string } | null>(() => {
  const now = derived.value;
  const layout = now.roll?.layout;
  if (!layout || layout.stretches.length > 0) return null;
  const found = search.value;
  if (found?.layout && found.fingerprint === now.layout_fingerprint && found.layout.bound_mm > 0)
    return { mm: found.layout.bound_mm, reason: found.layout.bound_reason };
  return layout.bound.mm > 0 ? { mm: layout.bound.mm, reason: layout.bound_reason } : null;
});

/// The layout of a search that was looked at already: coming back to the roll does not put it in the place of the kept one.
let seenLayout: Search["layout"] = null;
export function unseenLayout(): Search["layout"] {
  const now = search.peek()?.layout ?? null;
  const unseen = now !== seenLayout ? now : null;
  seenLayout = now;
  return unseen;
}

/// What an earlier look for a layout came to: its bound still holds. What it found was looked at then.
async function earlierSearch(id: string): Promise<void> {
  const before = await shop.layoutIfAny(id).catch(() => null);
  if (!before || currentJob.peek() !== id || search.peek()) return;
  if (before.state !== "runs" && before.state !== "waits") seenLayout = before.layout;
  search.value = before;
}

let stopListening: () => void = () => undefined;

export function heard(now: Search): void {
  search.value = now;
  if (now.layout) progress.value = [...progress.value, { done: now.done, used_mm: now.layout.used_mm }];
}

/// The layout is fetched when it is a shorter one, or the last one.
async function follow(id: string, news: SearchNews): Promise<void> {
  const before = search.value;
  const shorter = news.used_mm !== null && news.used_mm !== before?.layout?.used_mm;
  if (!shorter && before && news.state === "runs") {
    search.value = { ...before, state: news.state, done: news.done };
    return;
  }
  try {
    const now = await shop.layout(id);
    if (currentJob.peek() === id) heard(now);
  } catch {
    // The next piece of news asks again.
  }
}

async function open(id: string): Promise<void> {
  opening.value = "opening";
  try {
    await drained();
    const kept = await shop.open(id);
    if (currentJob.peek() !== id) return;
    if (!show(id, kept.job)) {
      opening.value = "none";
      return;
    }
    followJob(id, kept.head.rev, openJob.peek()?.text ?? kept.job, kept.life);
    opening.value = "";
    search.value = null;
    progress.value = [];
    void earlierSearch(id);
    stopListening = shop.listen(id, {
      revision: (rev) => void lookAgain(rev),
      layout: (news) => void follow(id, news),
      lost: () => void lookAgain(Number.MAX_SAFE_INTEGER),
    });
  } catch (fault) {
    opening.value = fault instanceof Refused ? "none" : "away";
  }
}

export const openAgain = (): void => {
  const id = currentJob.peek();
  if (id) void open(id);
};

/// The job in the address is the job that is open.
export function followAddress(): void {
  onOthers(takeOver);
  effect(() => {
    const id = currentJob.value;
    if (id === (openJob.peek()?.id ?? null)) return;
    stopListening();
    stopListening = () => undefined;
    leave();
    opening.value = "";
    if (id) void open(id);
  });
}

/// Begins a job from its text and goes to it.
export async function begin(text: string): Promise<void> {
  const read = core.open(text);
  if (!read.ok) return tell(read.findings[0]?.says ?? "", true);
  try {
    const head = await shop.create(read.job);
    go(String(head.id), "measure");
  } catch (fault) {
    tell(fault instanceof Error ? fault.message : "", true);
  }
}

/// With what the shop has settled for new jobs, if its machine says.
export async function beginOwn(title: string, boat: string, units: Units): Promise<void> {
  const paper = await book.settings().then(
    (settings) => settings.paper ?? {},
    () => ({}) as PaperSettings,
  );
  return begin(
    JSON.stringify({
      spile: 1,
      title,
      boat,
      units,
      ...(paper.mark_on ? { mark_on: paper.mark_on } : {}),
      ...(paper.rule_measured ? { papers: { rule_measured: paper.rule_measured } } : {}),
    }),
  );
}
