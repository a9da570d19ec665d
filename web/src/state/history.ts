// What was done, by name, and how it is taken back: without limit, also when somebody else edited in between.

export interface Step {
  name: string;
  before: string;
  after: string;
}
export interface History {
  done: Step[];
  undone: Step[];
}
export const noHistory: History = { done: [], undone: [] };

export const withStep = (h: History, step: Step): History => ({ done: [...h.done, step], undone: [] });

/// The step to take back, and the history without it; nothing when there is none.
export function stepBack(h: History): { step: Step; rest: Step[] } | null {
  const step = h.done.at(-1);
  return step ? { step, rest: h.done.slice(0, -1) } : null;
}
export function stepAgain(h: History): { step: Step; rest: Step[] } | null {
  const step = h.undone.at(-1);
  return step ? { step, rest: h.undone.slice(0, -1) } : null;
}
