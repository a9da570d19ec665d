// News of the shop's book for the screens that show it: another page, another device or a copy in its place has changed it.
import { effect, signal } from "@preact/signals";
import { shop } from "../shop/shop";
import { currentJob } from "./route";

/// Goes up when what the book says may be another.
export const bookChanged = signal(0);

const shown = signal(document.visibilityState === "visible");

/// Listens while a screen of the book is looked at: a browser lets a machine have six lines at once, for all its pages.
export function followBook(): void {
  document.addEventListener("visibilitychange", () => (shown.value = document.visibilityState === "visible"));
  let heardBefore = false;
  effect(() => {
    if (!shown.value || currentJob.value) return;
    let first = true;
    return shop.listenToBook(() => {
      // What the screen asked for when it opened is fresh; after a while away it may not be.
      if (!first || heardBefore) bookChanged.value += 1;
      first = false;
      heardBefore = true;
    });
  });
}
