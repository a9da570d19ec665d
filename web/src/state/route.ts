// Where a person is: kept in the address, so that going back and a second tab work.
import { computed, signal } from "@preact/signals";
import type { StageName } from "../core/answers";

export interface Route {
  job: string | null;
  stage: StageName;
}
const stages: readonly StageName[] = ["measure", "panels", "roll", "cost", "papers"];

function read(): Route {
  const [, job, stage] = /^#\/job\/([^/]+)(?:\/(\w+))?/.exec(location.hash) ?? [];
  const known = stages.find((s) => s === stage);
  return { job: job ? decodeURIComponent(job) : null, stage: known ?? "measure" };
}

export const route = signal<Route>(read());
window.addEventListener("hashchange", () => {
  route.value = read();
});
export const currentJob = computed(() => route.value.job);
export const currentStage = computed(() => route.value.stage);

export const addressOf = (job: string, stage: StageName): string => `#/job/${encodeURIComponent(job)}/${stage}`;
export function go(job: string | null, stage: StageName = "measure"): void {
  location.hash = job === null ? "#/" : addressOf(job, stage);
}
export { stages };
