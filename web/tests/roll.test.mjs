// The roll: a set over several lengths, goods that let pieces be turned, a pattern over the joints, and what is proved of a layout.
import assert from "node:assert/strict";
import { test } from "node:test";
import { broken, kept, newJob, openPage, pictures, shopAndBrowser } from "./program.mjs";

const { shop, browser } = await shopAndBrowser();

const goods = { name: "woven vinyl, sand", width: 72, usable_width: 71, gap: "1/4", step: 36 };
const mat = (id, size) => ({ id, name: `mat ${id}`, mat: `${size}, sealed` });

/// A page on the roll of a new job of these goods and panels.
async function onRoll(job) {
  const opened = await openPage(browser, shop.address);
  const id = await newJob(opened.page, { spile: 1, title: "Mats", units: "in", mark_on: "face", goods, ...job });
  await opened.page.goto(`${shop.address}#/job/${id}/roll`);
  await opened.page.getByRole("heading", { name: "These wait to be laid out" }).waitFor();
  return opened;
}

/// Looks for a layout until the search has ended.
async function layOut(page) {
  const begun = page.waitForResponse((answer) => answer.request().method() === "POST" && answer.url().endsWith("/layout"));
  await page.getByRole("button", { name: /^(Lay out|Look for better)$/ }).click();
  const address = (await begun).url();
  await page.waitForFunction(async (at) => (await (await fetch(at)).json()).search.state === "done", address, { timeout: 120_000 });
  await page.getByRole("button", { name: "Look for better" }).waitFor();
}

/// What stands in the list beside the drawing, by its name.
const fact = (page, name) => page.locator("dl.facts dt", { hasText: new RegExp(`^${name}$`) }).locator("xpath=following-sibling::dd[1]").first().innerText();

async function looked(page, name) {
  for (const [width, colorScheme] of [[390, "light"], [1280, "dark"], [1280, "light"]]) {
    await page.setViewportSize({ width, height: 844 });
    await page.emulateMedia({ colorScheme });
    await page.screenshot({ path: `${pictures}/roll-${name}-${width}-${colorScheme}.png`, fullPage: width === 390 });
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width, `${name} at ${width}`);
    assert.deepEqual(await broken(page), [], `${name} at ${width} ${colorScheme}`);
  }
}

test("what is proved of a layout holds for these pieces alone, and is there again on another page", async () => {
  const { page, errors } = await onRoll({ panels: [mat("1", "40 x 24"), mat("2", "24 x 30")] });
  await layOut(page);
  // Both side by side across the 71 in: the longer one and the gaps at both ends.
  assert.match(await fact(page, "Used"), /^40\s*1⁄2 in$/);
  assert.match(await fact(page, "Cannot be shorter than"), /^40\s*1⁄2 in$/);
  assert.equal(await fact(page, "Could still save"), "nothing, proved");
  await page.getByText("It cannot be shorter: piece 1 alone is that long").waitFor();
  await page.getByRole("button", { name: "Keep this layout" }).click();
  await kept(page);
  await looked(page, "proved");

  const two = await openPage(browser, page.url());
  await two.page.getByText("It cannot be shorter: piece 1 alone is that long").waitFor();
  assert.equal(await two.page.getByRole("button", { name: "Keep this layout" }).count(), 0, "what was found is not put in the place of what is kept");
  // Other pieces: nothing has been proved of them.
  await two.page.getByText("Goods", { exact: true }).click();
  await two.page.getByLabel("Knife room between pieces").fill("1/8");
  await two.page.getByLabel("Knife room between pieces").press("Enter");
  await two.page.getByText("It cannot be shorter").waitFor({ state: "detached" });
  assert.deepEqual([...errors, ...two.errors], []);
});

test("where the goods come apart straight across is drawn and said", async () => {
  // Too wide to lie side by side: one behind another, a quarter of an inch between them.
  const { page, errors } = await onRoll({ goods: { ...goods, least_order: 180 }, panels: [mat("1", "36 x 40"), mat("2", "24 x 40")] });
  await layOut(page);
  await page.getByRole("button", { name: "Keep this layout" }).click();
  await kept(page);
  await page.getByText("The drawing in words").click();
  const cut = page.getByText(/^Comes apart straight across/);
  assert.match(await cut.innerText(), /^Comes apart straight across 36\s*3⁄8 in from the cut end$/);
  assert.equal(await fact(page, "To buy, the least order"), "180 in");
  await page.getByText("Goods", { exact: true }).click();
  await looked(page, "across");
  assert.deepEqual(errors, []);
});

test("goods that let pieces be turned: said, found by the search, turned by hand and by key", async () => {
  // Longer than the goods are wide: it lies along unless it may lie across.
  const { page, errors } = await onRoll({ panels: [mat("1", "60 x 20"), mat("2", "24 x 20")] });
  await layOut(page);
  await page.getByText("locked to the bow").first().waitFor();
  assert.match(await fact(page, "Used"), /^60\s*1⁄2 in$/);
  await page.getByText("Goods", { exact: true }).click();
  await page.getByLabel("A piece may lie").selectOption("quarter turn");
  await kept(page);
  await layOut(page);
  await page.getByRole("button", { name: "Keep this layout" }).waitFor();
  await page.waitForFunction(() => Number.parseFloat(document.querySelector("dl.facts dd").textContent) < 50); // the long one lies across
  const one = page.getByRole("button", { name: /^Piece 1/ }).first();
  await one.focus();
  assert.match(await fact(page, "Direction"), /turned by/);
  await looked(page, "turned");
  await page.getByRole("button", { name: "Back, mirrored" }).click();
  await looked(page, "turned-back");
  await page.getByRole("button", { name: "Face", exact: true }).click();
  // There is room for the small one across as well; T again brings it on round.
  const two = page.getByRole("button", { name: /^Piece 2/ }).first();
  await two.focus();
  const before = await fact(page, "Direction");
  for (let i = 0; i < 12; i++) await two.press("Shift+ArrowRight");
  await two.press("t");
  await page.waitForFunction((was) => ![...document.querySelectorAll("dl.facts dd")].some((dd) => dd.textContent === was), before);
  await page.getByRole("button", { name: "Turn it" }).click();
  assert.deepEqual(errors, []);
});

test("a pattern over the joints: carried, or how far it is out at each", async () => {
  const space = {
    id: "cockpit",
    walk: ["A", "B", "C", "D"],
    bow: ["A", "B"],
    ties: ["A B 60", "B C 40", "C D 60", "D A 40", "A C 72.111", "B D 72.111", "M on A B at 30", "N on C D at 30"],
  };
  const half = (id, corners, edge) => ({ id, name: `half ${id}`, space: "cockpit", corners, edges: { [edge]: { situation: "joint" } } });
  const { page, errors } = await onRoll({
    goods: { ...goods, repeat: { along: 7, across: 5 } },
    spaces: [space],
    panels: [half("1", ["A", "M", "N", "D"], "M N"), half("2", ["M", "B", "C", "N"], "N M")],
  });
  await layOut(page);
  const joints = page.getByRole("region", { name: "The pattern at the joints" });
  await joints.getByText("Pieces 1 and 2, edge").waitFor();
  await joints.getByText("the pattern goes on").waitFor();
  await looked(page, "pattern");
  // Half an inch to the side it is out by that much.
  const two = page.getByRole("button", { name: /^Piece 2/ }).first();
  await two.focus();
  await page.getByText("Goods", { exact: true }).click();
  await page.getByLabel("Carry it over the joints of a space").uncheck();
  await joints.getByText("Not carried").waitFor();
  await kept(page);
  await layOut(page);
  for (let i = 0; i < 4; i++) await two.press("Shift+ArrowRight");
  await joints.getByText(/out by .* along, .* across \(in\)/).waitFor();
  assert.deepEqual(errors, []);
});

test("a set that no one length holds lies on several; each has its name, and a piece its own", async () => {
  const { page, errors } = await onRoll({ panels: [mat("1", "40 x 60"), mat("2", "34 x 60"), mat("3", "20 x 9")] });
  await page.evaluate(async (of) => {
    const post = (path, body) => fetch(`api/${path}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
    await post("goods", { name: of.name, goods: of });
    await post("rolls", { goods: 1, lot: "0417-B", label: "", length_mm: 1100 });
    await post("rolls", { goods: 1, lot: "0417-B", label: "short end", length_mm: 1000 });
  }, goods);
  await page.reload();
  await layOut(page);
  await page.getByText("Too short for this layout.").first().waitFor();
  await page.getByRole("button", { name: "What is it best cut from?" }).click();
  await page.getByText("Several lengths of one lot").waitFor({ timeout: 120_000 });
  const ofOneLot = page.locator(".card", { hasText: "Several lengths of one lot" });
  await ofOneLot.getByRole("button", { name: "Keep this layout" }).click();
  await kept(page);
  const drawing = page.locator("svg.view");
  await drawing.getByText("roll 1, lot 0417-B").waitFor();
  await drawing.getByText("roll 2, lot 0417-B").waitFor();
  assert.equal(await page.getByText("Cannot be shorter than").count(), 0, "what is proved of one length says nothing of two");
  await page.getByRole("button", { name: /^Piece 2/ }).first().focus();
  assert.equal(await fact(page, "To buy"), "nothing, all is in the rack");
  assert.match(await fact(page, "On"), /^roll \d, lot 0417-B$/);
  // Of its own length, not of where it is drawn.
  assert.match(await fact(page, "From the cut end"), /^1⁄4 in$/);
  await looked(page, "several");
  await page.getByText("The drawing in words").click();
  await page.getByText(/from the cut end of roll \d, lot 0417-B/).first().waitFor();
  await page.getByRole("button", { name: "Back, mirrored" }).click();
  await looked(page, "several-back");
  await page.getByRole("button", { name: "Face", exact: true }).click();
  await page.getByRole("button", { name: /^Cut it from roll/ }).click();
  await page.getByText(/, and from roll/).waitFor();
  assert.deepEqual(errors, []);
});

test("small pieces to sell are listed beside the goods, shown in what is left, kept in no layout and there again after a reload", async () => {
  const { page, errors } = await onRoll({ panels: [mat("1", "40 x 40")] });
  await page.getByText("Goods", { exact: true }).click();
  const list = page.getByRole("region", { name: "Small pieces to sell" });
  await list.getByLabel("What is it?").fill("step mat");
  await list.getByLabel("Length, cut").fill("18");
  await list.getByLabel("Width, cut").fill("12");
  await list.getByLabel("At most").fill("2");
  await list.getByRole("button", { name: "List a small piece" }).click();
  await list.getByText("step mat, 18 in x 12 in, at most 2").waitFor();
  await list.getByLabel("What is it?").fill("coaster");
  await list.getByLabel("Length, cut").fill("4");
  await list.getByLabel("At most").fill("3");
  await list.getByRole("button", { name: "List a small piece" }).click();
  await list.getByText("coaster, round 4 in, at most 3").waitFor();
  await kept(page);
  await layOut(page);
  // 40 x 40 on 71 in: 30 in are left beside it, 40 long, for two mats and three coasters.
  const beside = page.getByText("Beside the panels there is room for 2 of step mat, 3 of coaster.");
  await beside.waitFor();
  await page.getByRole("button", { name: "Keep this layout" }).click();
  await kept(page);
  await beside.waitFor();
  await page.reload();
  await beside.waitFor();
  const drawing = page.locator("svg.view");
  assert.equal(await drawing.getByText("step mat").count(), 2);
  await page.getByText("The drawing in words").click();
  await page.getByText(/^coaster: .* from the cut end/).first().waitFor();
  await looked(page, "fillers");
  await page.getByRole("button", { name: "Back, mirrored" }).click();
  assert.equal(await drawing.getByText("step mat").count(), 2);
  await page.getByRole("navigation").getByRole("link", { name: /^Papers/ }).click();
  await page.getByRole("img", { name: /The roll/ }).first().waitFor();
  await page.getByRole("navigation").getByRole("link", { name: /^Roll/ }).click();
  await page.getByText("Goods", { exact: true }).click();
  await list.getByRole("button", { name: "no small piece coaster" }).click();
  await page.getByText("Beside the panels there is room for 2 of step mat.").waitFor();
  await list.getByRole("button", { name: "no small piece step mat" }).click();
  await page.getByText("Beside the panels there is room").waitFor({ state: "detached" });
  assert.deepEqual(errors, []);
});
