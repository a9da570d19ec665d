// Jobs on the shop's own machine: kept there, long work done there. The shop's book is in book.ts.
import type { Edit, Finding, GivenLayout, Placement } from "../core/answers";
import { call, knock, Refused } from "./call";

export type JobState = "enquiry" | "quoted" | "ordered" | "in work" | "fitted" | "paid" | "not taken";
export interface JobHead {
  id: number;
  rev: number;
  title: string;
  boat: string;
  customer: string;
  state: JobState;
  promised: string;
  customer_id: number;
  boat_id: number;
  repeat_of: number;
  unchecked: boolean;
  as_fitted_rev: number;
  /** seconds since 1970 */
  changed: number;
}
export interface KeptJob {
  head: JobHead;
  job: string;
}
/// `life`: of the book; another once a copy has taken its place.
export interface OpenedJob extends KeptJob {
  life: string;
}
export interface Search {
  state: "waits" | "runs" | "done" | "stopped" | "failed";
  rev: number;
  /** of what is laid out, as layout_fingerprint of derive: what was proved holds while it is the same */
  fingerprint: string;
  rounds: number;
  /** share of the rounds, 0 to 1 */
  done: number;
  layout: (GivenLayout & { used_mm: number; bought_mm: number; bound_mm: number; bound_reason: string; goods_share: number }) | null;
  findings: Finding[];
}
/// What the news says of a search; the layout itself is asked for.
export interface SearchNews {
  state: Search["state"];
  done: number;
  used_mm: number | null;
  bound_mm: number | null;
}
export interface Paper {
  name: string;
  title: string;
  purpose: string;
  group: string;
  cutting: boolean;
  bytes: number;
}

const newsAgain_ms = 2000;

const jobPath = (id: string, more = ""): string => `jobs/${encodeURIComponent(id)}${more}`;

export const shop = {
  session: () => call<{ known: boolean; name: string; local: boolean; lan: boolean }>("GET", "session"),
  jobs: (text: string, state = "") =>
    call<{ count: number; jobs: JobHead[] }>(
      "GET",
      `jobs?limit=100&text=${encodeURIComponent(text)}${state ? `&state=${encodeURIComponent(state)}` : ""}`,
    ),
  open: (id: string) => call<OpenedJob>("GET", jobPath(id)),
  create: async (text: string): Promise<JobHead> => (await call<{ head: JobHead }>("POST", "jobs", { text })).head,
  send: (id: string, opId: string, baseRev: number, why: string, edits: Edit[], life: string) =>
    call<KeptJob>("POST", jobPath(id, "/edits"), { op_id: opId, base_rev: baseRev, why, edits, life }),
  /// Pieces that are pinned stay where they are.
  startLayout: async (id: string, pins: Placement[]): Promise<Search> =>
    (await call<{ search: Search }>("POST", jobPath(id, "/layout"), pins.length > 0 ? { pins } : {})).search,
  stopLayout: async (id: string): Promise<Search> =>
    (await call<{ search: Search }>("DELETE", jobPath(id, "/layout"))).search,
  layout: async (id: string): Promise<Search> => (await call<{ search: Search }>("GET", jobPath(id, "/layout"))).search,
  /// Null where none has been looked for.
  layoutIfAny: async (id: string): Promise<Search | null> =>
    shop.layout(id).catch((fault) => {
      if (fault instanceof Refused) return null;
      throw fault;
    }),
  /// What small pieces find room beside a layout over one length.
  fillers: async (id: string, placements: Placement[]): Promise<Placement[]> =>
    (await call<{ fillers: Placement[] }>("POST", jobPath(id, "/fillers"), { placements })).fillers,
  papers: (id: string) => call<{ may_cut: boolean; papers: Paper[] }>("GET", jobPath(id, "/papers")),
  paperAddress: (id: string, name: string): string => `api/${jobPath(id, `/papers/${encodeURIComponent(name)}`)}`,

  /// News of a job until the returned function is called.
  listen(id: string, on: { revision: (rev: number) => void; layout: (news: SearchNews) => void; lost: () => void }): () => void {
    const read = <T>(event: Event): T => JSON.parse((event as MessageEvent<string>).data) as T;
    return follow(jobPath(id, "/events"), { revision: (e) => on.revision(read<{ rev: number }>(e).rev), layout: (e) => on.layout(read<SearchNews>(e)) }, on.lost);
  },
  /// That something of the shop's book has changed, until the returned function is called.
  listenToBook: (changed: () => void): (() => void) => follow("events", { job: changed, book: changed }, changed),
};

/// The browser connects again by itself, unless the machine was started again and does not know the page any more. `lost`:
/// something may have been missed; at the beginning, too.
function follow(path: string, on: Record<string, (event: Event) => void>, lost: () => void): () => void {
  let again: ReturnType<typeof setTimeout> | undefined;
  let stream = begin();
  function begin(): EventSource {
    const opened = new EventSource(`api/${path}`);
    for (const [kind, heard] of Object.entries(on)) opened.addEventListener(kind, heard);
    opened.addEventListener("missed", lost);
    opened.addEventListener("ready", lost);
    opened.addEventListener("error", () => {
      if (opened.readyState !== EventSource.CLOSED) return;
      again = setTimeout(() => void knock().then(() => again !== undefined && (stream = begin())), newsAgain_ms);
      lost();
    });
    return opened;
  }
  return () => {
    clearTimeout(again);
    again = undefined;
    stream.close();
  };
}
