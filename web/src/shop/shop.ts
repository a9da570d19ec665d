// The shop's own machine: jobs kept there, long work done there. The one file that knows its addresses.
import type { Edit, Finding, GivenLayout } from "../core/answers";

export interface JobHead {
  id: number;
  rev: number;
  title: string;
  boat: string;
  customer: string;
  state: string;
  promised: string;
  /** seconds since 1970 */
  changed: number;
}
export interface KeptJob {
  head: JobHead;
  job: string;
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

/// The machine answered that this cannot be.
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly findings: Finding[],
  ) {
    super(findings[0] ? `${findings[0].says} ${findings[0].to_do}`.trim() : `The shop's machine answered ${status}.`);
  }
}
/// Nobody answered: the cable, the wireless, the machine asleep.
export class Unreachable extends Error {}

const patience_ms = 15_000;

/// The machine knows this page by a cookie that lasts as long as its program; the address of the page gives a new one.
async function knock(): Promise<void> {
  try {
    await fetch("./", { credentials: "same-origin", cache: "no-store" });
  } catch {
    // The next call says that nobody answers.
  }
}

async function call<T>(method: string, path: string, body?: unknown, first = true): Promise<T> {
  let response: Response;
  let text: string;
  const giveUp = new AbortController();
  const timer = setTimeout(() => giveUp.abort(), patience_ms);
  try {
    response = await fetch(`api/${path}`, {
      method,
      credentials: "same-origin",
      signal: giveUp.signal,
      ...(body === undefined ? {} : { headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) }),
    });
    text = await response.text();
  } catch {
    throw new Unreachable("The shop's machine does not answer.");
  } finally {
    clearTimeout(timer);
  }
  let answer: unknown = null;
  try {
    answer = text ? JSON.parse(text) : null;
  } catch {
    if (response.ok) throw new Unreachable("The answer of the shop's machine could not be read.");
  }
  if (response.status === 401 && first) {
    await knock();
    return call<T>(method, path, body, false);
  }
  if (response.status === 401) throw new Unreachable("The shop's machine does not know this device any more. Reload the page.");
  // Too busy, or restarting behind a proxy: the same as not answering, so that an edit is tried again.
  if (response.status >= 502 || response.status === 429) throw new Unreachable("The shop's machine is busy.");
  if (!response.ok) throw new Refused(response.status, (answer as { findings?: Finding[] } | null)?.findings ?? []);
  return answer as T;
}

const jobPath = (id: string, more = ""): string => `jobs/${encodeURIComponent(id)}${more}`;

export const shop = {
  session: () => call<{ known: boolean; name: string; local: boolean; lan: boolean }>("GET", "session"),
  jobs: (text: string) =>
    call<{ count: number; jobs: JobHead[] }>("GET", `jobs?limit=100&text=${encodeURIComponent(text)}`),
  open: (id: string) => call<KeptJob>("GET", jobPath(id)),
  create: async (text: string): Promise<JobHead> => (await call<{ head: JobHead }>("POST", "jobs", { text })).head,
  send: (id: string, opId: string, baseRev: number, why: string, edits: Edit[]) =>
    call<KeptJob>("POST", jobPath(id, "/edits"), { op_id: opId, base_rev: baseRev, why, edits }),
  startLayout: async (id: string): Promise<Search> =>
    (await call<{ search: Search }>("POST", jobPath(id, "/layout"), {})).search,
  stopLayout: async (id: string): Promise<Search> =>
    (await call<{ search: Search }>("DELETE", jobPath(id, "/layout"))).search,
  layout: async (id: string): Promise<Search> => (await call<{ search: Search }>("GET", jobPath(id, "/layout"))).search,
  papers: (id: string) => call<{ may_cut: boolean; papers: Paper[] }>("GET", jobPath(id, "/papers")),
  paperAddress: (id: string, name: string): string => `api/${jobPath(id, `/papers/${encodeURIComponent(name)}`)}`,

  /// News of a job until the returned function is called. The browser connects again by itself.
  listen(id: string, on: { revision: (rev: number) => void; layout: (news: SearchNews) => void; lost: () => void }): () => void {
    const stream = new EventSource(`api/${jobPath(id, "/events")}`);
    const read = <T>(event: Event): T => JSON.parse((event as MessageEvent<string>).data) as T;
    stream.addEventListener("revision", (e) => on.revision(read<{ rev: number }>(e).rev));
    stream.addEventListener("layout", (e) => on.layout(read<SearchNews>(e)));
    stream.addEventListener("missed", on.lost);
    stream.addEventListener("ready", on.lost);
    return () => stream.close();
  },
};
