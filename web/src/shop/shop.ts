// Jobs on the shop's own machine: kept there, long work done there. The shop's book is in book.ts.
import type { Edit, Finding, GivenLayout, Placement } from "../core/answers";
import { call, knock } from "./call";

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
  papers: (id: string) => call<{ may_cut: boolean; papers: Paper[] }>("GET", jobPath(id, "/papers")),
  paperAddress: (id: string, name: string): string => `api/${jobPath(id, `/papers/${encodeURIComponent(name)}`)}`,

  /// News of a job until the returned function is called. The browser connects again by itself, unless the machine was
  /// started again and does not know the page any more.
  listen(id: string, on: { revision: (rev: number) => void; layout: (news: SearchNews) => void; lost: () => void }): () => void {
    const read = <T>(event: Event): T => JSON.parse((event as MessageEvent<string>).data) as T;
    let again: ReturnType<typeof setTimeout> | undefined;
    let stream = begin();
    function begin(): EventSource {
      const opened = new EventSource(`api/${jobPath(id, "/events")}`);
      opened.addEventListener("revision", (e) => on.revision(read<{ rev: number }>(e).rev));
      opened.addEventListener("layout", (e) => on.layout(read<SearchNews>(e)));
      opened.addEventListener("missed", on.lost);
      opened.addEventListener("ready", on.lost);
      opened.addEventListener("error", () => {
        if (opened.readyState !== EventSource.CLOSED) return;
        again = setTimeout(() => void knock().then(() => again !== undefined && (stream = begin())), newsAgain_ms);
        on.lost();
      });
      return opened;
    }
    return () => {
      clearTimeout(again);
      again = undefined;
      stream.close();
    };
  },
};
