// Small saleable pieces beside the layout that is shown. Where they find room the shop's machine knows, which has the solver; the core
// proves them and draws them.
import { effect } from "@preact/signals";
import { shop } from "../shop/shop";
import { drained } from "./line";
import { derived, fillers, openJob } from "./store";

/// A piece that is moved by key after key asks once.
const settled_ms = 150;

/// For every layout of one length that comes to be shown, once.
export function followFillers(): void {
  let asked = "";
  let soon: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    const job = openJob.value;
    const goods = job?.said.goods;
    const layout = derived.value.roll?.layout;
    const wanted = job && goods?.fillers && layout && layout.stretches.length === 0 ? layout.placements : null;
    const placements = wanted?.map(({ piece, x_um, y_um, turns }) => ({ piece, x_um, y_um, turns })) ?? [];
    const now = wanted ? JSON.stringify([job?.id, goods, placements, derived.value.layout_fingerprint]) : "";
    if (now === asked) return;
    asked = now;
    clearTimeout(soon);
    if (!job || !wanted) {
      fillers.value = null;
      return;
    }
    soon = setTimeout(() => void ask(job.id), settled_ms);
    async function ask(id: string): Promise<void> {
      await drained();
      const found = await shop.fillers(id, placements).catch(() => null);
      if (asked === now) fillers.value = found;
    }
  });
}
