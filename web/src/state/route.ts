// Where a person is: kept in the address, so that going back and a second tab work.
import { computed, signal } from "@preact/signals";
import type { StageName } from "../core/answers";

/// The stages of the way of a job, and what is known about the job beside its document.
export type JobScreen = StageName | "about";
/// What belongs to the shop and to no job.
export type ShopScreen = "jobs" | "stock" | "prices" | "totals" | "settings" | "safe";
export interface Route {
  job: string | null;
  stage: JobScreen;
  shop: ShopScreen;
}
const stages: readonly StageName[] = ["measure", "panels", "roll", "cost", "papers"];
const jobScreens: readonly JobScreen[] = [...stages, "about"];
const shopScreens: readonly ShopScreen[] = ["jobs", "stock", "prices", "totals", "settings", "safe"];

function read(): Route {
  const [, job, stage] = /^#\/job\/([^/]+)(?:\/(\w+))?/.exec(location.hash) ?? [];
  const [, screen] = /^#\/(\w+)$/.exec(location.hash) ?? [];
  return {
    job: job ? decodeURIComponent(job) : null,
    stage: jobScreens.find((s) => s === stage) ?? "measure",
    shop: shopScreens.find((s) => s === screen) ?? "jobs",
  };
}

export const route = signal<Route>(read());
window.addEventListener("hashchange", () => {
  route.value = read();
});
export const currentJob = computed(() => route.value.job);
export const currentStage = computed(() => route.value.stage);

export const currentShop = computed(() => route.value.shop);

export const shopAddressOf = (screen: ShopScreen): string => (screen === "jobs" ? "#/" : `#/${screen}`);
export const addressOf = (job: string, stage: JobScreen): string => `#/job/${encodeURIComponent(job)}/${stage}`;
export function go(job: string | null, stage: JobScreen = "measure"): void {
  location.hash = job === null ? "#/" : addressOf(job, stage);
}
export { shopScreens, stages };
