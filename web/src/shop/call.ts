// One question to the shop's machine, and what became of it.
import type { Finding } from "../core/answers";
import { words } from "../words/en";

/// The machine answered that this cannot be.
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly findings: Finding[],
  ) {
    super(findings[0] ? `${findings[0].says} ${findings[0].to_do}`.trim() : words.machineAnswered(status));
  }
}
/// Nobody answered: the cable, the wireless, the machine asleep.
export class Unreachable extends Error {}

const usual_ms = 15_000;
/// For what lays pieces out before it answers.
export const layingOut_ms = 120_000;

/// The machine knows this page by a cookie that lasts as long as its program; the address of the page gives a new one.
export async function knock(): Promise<void> {
  try {
    await fetch("./", { credentials: "same-origin", cache: "no-store" });
  } catch {
    // The next call says that nobody answers.
  }
}

export async function call<T>(method: string, path: string, body?: unknown, patience_ms = usual_ms, first = true): Promise<T> {
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
    throw new Unreachable(words.noMachine);
  } finally {
    clearTimeout(timer);
  }
  let answer: unknown = null;
  try {
    answer = text ? JSON.parse(text) : null;
  } catch {
    if (response.ok) throw new Unreachable(words.unreadable);
  }
  if (response.status === 401 && first) {
    await knock();
    return call<T>(method, path, body, patience_ms, false);
  }
  if (response.status === 401) throw new Unreachable(words.notKnown);
  // Too busy, or restarting behind a proxy: the same as not answering, so that an edit is tried again.
  if (response.status >= 502 || response.status === 429) throw new Unreachable(words.machineBusy);
  if (!response.ok) throw new Refused(response.status, (answer as { findings?: Finding[] } | null)?.findings ?? []);
  return answer as T;
}
