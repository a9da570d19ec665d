// Times the page: how long from a keystroke in the tape book to the last change of the drawing. Prints least, median and nine of ten.
//   SPILE_PROGRAM=build/spile node web/bench/redraw.mjs
import { openPage, startBrowser, startShop } from "../tests/program.mjs";

const shop = await startShop();
const browser = await startBrowser();
const { page } = await openPage(browser, shop.address);
await page.getByRole("button", { name: "Open the example" }).click();
await page.getByText("Kept", { exact: true }).waitFor();
const taken_ms = await page.evaluate(async () => {
  const field = document.querySelector(".type input");
  const value = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set;
  const wait = (ms) => new Promise((done) => setTimeout(done, ms));
  const times = [];
  // Slips, so that the wrong reading is looked for; a space at the end makes each line a new one.
  for (let round = 0; round < 14; ++round) {
    for (const line of ["A C 11", "A C 111", "A C 111 1/4", "A C 112"]) {
      await wait(60);
      let last = 0;
      const changes = new MutationObserver(() => (last = performance.now()));
      changes.observe(document.querySelector("svg.view"), { subtree: true, childList: true, attributes: true });
      const pressed = performance.now();
      value.call(field, line + (round % 2 ? "" : " "));
      field.dispatchEvent(new InputEvent("input", { bubbles: true }));
      await wait(450);
      changes.disconnect();
      if (last > 0) times.push(last - pressed);
    }
  }
  return times;
});
const late = taken_ms.slice(10).sort((a, b) => a - b);  // the first ones warm the page up
const at = (share) => late[Math.floor(share * (late.length - 1))].toFixed(0);
console.log(`keystroke to drawing, ${late.length} times: least ${at(0)} ms, median ${at(0.5)} ms, nine of ten ${at(0.9)} ms`);
await browser.close();
await shop.end();
