// Panels by clicks and keys: joint lines drawn, a panel divided, changed, taken out; an opening gets another form.
import assert from "node:assert/strict";
import { test } from "node:test";
import { broken, newJob, openPage, pictures, shopAndBrowser } from "./program.mjs";

const { shop, browser } = await shopAndBrowser();

test("a panel is divided at a joint in one action, openings and studs go to their half; changed, undone, taken out", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  await page.getByLabel("What is it for?").fill("Joints");
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("button", { name: "Begin taping" }).click();
  const lines = ["A B 80", "B C 60", "C D 80", "D A 60", "A C 100", "B D 100", "P on A B at 40", "Q on D C at 40", "S on A B at 20 off 30 left"];
  for (const line of [...lines, "T on A B at 60 off 30 left", "U on A B at 65 off 20 left"]) {
    await page.getByLabel("Type a reading").first().fill(line);
    await page.getByLabel("Type a reading").first().press("Enter");
  }
  await page.getByLabel("Walk round it").fill("A B C D");
  await page.getByLabel("Towards the bow").fill("A B");
  await page.getByLabel("Towards the bow").press("Enter");
  await page.getByRole("navigation").getByRole("link", { name: /^Panels/ }).click();
  await page.getByText("the back, mirrored").click();
  await page.getByRole("button", { name: "New panel" }).click();
  await page.getByLabel("Name").fill("sole");
  await page.getByLabel("Corners, walking round it").fill("A B C D");
  await page.getByRole("button", { name: "Make the panel" }).click();
  await page.getByLabel("Studs under it").fill("S U");
  await page.getByLabel("Studs under it").press("Enter");
  await page.getByRole("button", { name: "New opening" }).click();
  await page.getByLabel("At point").fill("T");
  await page.getByLabel("Diameter of what passes").fill("2");
  await page.getByRole("button", { name: "Make the opening" }).click();
  await page.getByRole("button", { name: "The whole panel" }).click();

  // A line that nobody measured is said, and nothing is made.
  await page.getByRole("button", { name: "New joint" }).click();
  await page.getByLabel("Through the points, in order").fill("P X");
  await page.getByRole("button", { name: "Draw the joint" }).click();
  await page.getByRole("alert").getByText("which no reading").waitFor();
  await page.locator(".drawing svg text", { hasText: /^P$/ }).last().click();
  await page.getByLabel("Through the points, in order").fill("P Q");
  assert.equal(await page.getByLabel("Divide a panel into two").inputValue(), "1", "the panel that is chosen");
  await page.screenshot({ path: `${pictures}/joint-new.png` });
  await page.getByRole("button", { name: "Draw the joint" }).click();
  await page.getByRole("heading", { name: "Joint: centre" }).waitFor();
  await page.getByLabel("sole 1", { exact: true }).waitFor();
  assert.equal(await page.getByLabel("sole 1", { exact: true }).inputValue(), "left");
  assert.equal(await page.getByLabel("sole 2", { exact: true }).inputValue(), "right");
  await page.screenshot({ path: `${pictures}/joint.png` });
  assert.deepEqual(await broken(page), []);
  // Both carry the mark; the halves have their own.
  assert.equal(await page.locator(".drawing svg text", { hasText: /^M1$/ }).count(), 2);
  const panels = page.getByRole("region", { name: "Panels" }).first();
  await panels.getByRole("button", { name: /sole 2/ }).click();
  await page.getByRole("button", { name: "Opening: post", exact: true }).waitFor();
  assert.equal(await page.getByLabel("Studs under it").inputValue(), "U");
  await panels.getByRole("button", { name: /sole 1/ }).click();
  await page.getByRole("button", { name: "Opening: post", exact: true }).waitFor({ state: "detached" });
  assert.equal(await page.getByLabel("Studs under it").inputValue(), "S");
  await page.getByText("Nothing needs you here").or(page.getByText("Good to know")).or(page.getByText("Yours to decide")).first().waitFor();
  assert.equal(await page.getByText("Stops cutting").count(), 0);

  // Its reveal, and a neighbour that is made already.
  await page.getByRole("button", { name: /^centre P – Q/ }).click();
  await page.getByLabel("Reveal").fill("1/4");
  await page.getByLabel("Reveal").press("Enter");
  await page.getByLabel("Made already").selectOption("sole 1 is finished");
  await page.getByRole("button", { name: /sole 2/ }).first().click();
  await page.locator(".as-list summary").click();
  await page.locator(".as-list").getByRole("button", { name: /^P Q|^Q P/ }).last().click();
  await page.getByText("Comes off", { exact: true }).waitFor();
  assert.match(await page.locator("dl.facts").innerText(), /1\s*⁄?\/?\s*4/);

  // What would not cut a panel in two is refused beside its field.
  await page.getByRole("button", { name: /^centre P – Q/ }).click();
  await page.getByLabel("Through the points, in order").fill("A B");
  await page.getByLabel("Through the points, in order").press("Enter");
  await page.locator(".hint.bad").waitFor();
  await page.getByLabel("Through the points, in order").fill("P S Q");
  await page.getByLabel("Through the points, in order").press("Enter");
  await page.locator(".hint.bad").waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Undo" }).click();

  // Taken out: nobody ends at it any more. Undo brings it back, and further the whole panel.
  await page.getByRole("button", { name: "Take the joint out" }).click();
  assert.equal(await page.getByRole("button", { name: /^centre P – Q/ }).count(), 0);
  for (let n = 0; n < 4; n++) await page.getByRole("button", { name: "Undo" }).click();
  await page.getByRole("button", { name: "1 sole", exact: true }).first().waitFor();
  assert.equal(await page.getByRole("button", { name: /sole 2/ }).count(), 0);
  await page.getByText("Kept", { exact: true }).waitFor();
  assert.deepEqual(errors, []);
});

/// A job with a panel of 40 x 30 in, on the panels' screen; P and Q stand well inside it.
async function rectangle(page, title) {
  await page.getByLabel("What is it for?").fill(title);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("button", { name: "Begin taping" }).click();
  for (const line of ["A B 40", "B C 30", "C D 40", "D A 30", "A C 50", "B D 50", "P on A B at 20 off 15 left", "Q on A B at 28 off 15 left"]) {
    await page.getByLabel("Type a reading").first().fill(line);
    await page.getByLabel("Type a reading").first().press("Enter");
  }
  await page.getByLabel("Walk round it").fill("A B C D");
  await page.getByLabel("Towards the bow").fill("A B");
  await page.getByLabel("Towards the bow").press("Enter");
  await page.getByRole("navigation").getByRole("link", { name: /^Panels/ }).click();
  await page.getByRole("button", { name: "New panel" }).click();
  await page.getByLabel("Corners, walking round it").fill("A B C D");
  await page.getByRole("button", { name: "Make the panel" }).click();
}

test("an opening gets another form and keeps its finish; what cannot be is said, undo takes it back", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  await rectangle(page, "Forms");
  await page.getByRole("button", { name: "New opening" }).click();
  await page.getByLabel("At point").fill("P");
  await page.getByLabel("Diameter of what passes").fill("6");
  await page.getByRole("button", { name: "Make the opening" }).click();
  await page.getByRole("heading", { name: "Opening: post" }).waitFor();
  await page.locator("label.choice", { hasText: "Bound" }).first().click();

  await page.getByRole("button", { name: "Give it another form" }).click();
  const form = page.getByRole("form", { name: "Give it another form" });
  await form.getByText("Slot", { exact: true }).click();
  await form.getByLabel("From and to, the middles of its ends").fill("P X");
  await form.getByLabel("Width of what passes").fill("6");
  await form.getByRole("button", { name: "Give it this form" }).click();
  await form.locator(".finding", { hasText: "X" }).waitFor();
  await form.getByLabel("From and to, the middles of its ends").fill("P Q");
  await page.screenshot({ path: `${pictures}/opening-form.png` });
  assert.deepEqual(await broken(page), []);
  await form.getByRole("button", { name: "Give it this form" }).click();
  await page.getByLabel("Width of what passes").waitFor();
  assert.equal(await page.getByLabel("Diameter of what passes").count(), 0);
  assert.ok(await page.getByRole("radio", { name: /^Bound/ }).first().isChecked());
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByLabel("Diameter of what passes").waitFor();
  await page.getByText("Kept", { exact: true }).waitFor();
  assert.deepEqual(errors, []);
});

test("a heel pad is put on a panel, finished, made too large, taken off; a strip follows an edge", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  await rectangle(page, "Applied");
  await page.getByRole("button", { name: "New piece to put on" }).click();
  let form = page.getByRole("form", { name: "New piece to put on" });
  await form.getByLabel("At point").fill("P");
  await form.getByLabel("Finished length by width").fill("12 x 8");
  await page.screenshot({ path: `${pictures}/applied-new.png`, fullPage: true });
  await form.getByRole("button", { name: "Put it on" }).click();
  await page.getByRole("heading", { name: "Heel pad", exact: true }).waitFor();
  await page.locator("label.choice", { hasText: "Bound" }).first().click();
  await page.screenshot({ path: `${pictures}/applied.png`, fullPage: true });
  assert.deepEqual(await broken(page), []);
  const size = page.getByLabel("Finished length by width");
  await size.fill("60 x 8");
  await size.press("Enter");
  const outside = page.getByText(/past the finished edge/).first();
  await outside.waitFor();
  await size.fill("14 x 8");
  await size.press("Enter");
  await outside.waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Take out", exact: true }).click();
  await page.getByRole("heading", { name: "Heel pad", exact: true }).waitFor({ state: "detached" });

  await page.getByRole("button", { name: "New piece to put on" }).click();
  form = page.getByRole("form", { name: "New piece to put on" });
  await form.getByText("Facing strip", { exact: true }).click();
  await form.getByLabel("Along the edge").selectOption({ index: 1 });
  await form.getByLabel("Width", { exact: true }).fill("2");
  await form.getByRole("button", { name: "Put it on" }).click();
  await page.getByRole("heading", { name: "Facing strip", exact: true }).waitFor();
  await page.screenshot({ path: `${pictures}/applied-strip.png`, fullPage: true });
  await page.getByText("Kept", { exact: true }).waitFor();
  assert.deepEqual(errors, []);
});

const wide = {
  spile: 1,
  title: "Hold",
  units: "in",
  mark_on: "back",
  goods: { width: 72 },
  spaces: [{ id: "hold", walk: ["A", "B", "C", "D"], bow: ["A", "B"], ties: ["A B 120", "B C 100", "C D 120", "D A 100", "A C 156 3/16", "B D 156 3/16"] }],
  panels: [
    { id: "1", name: "hold sole", corners: ["A", "B", "C", "D"], corner_radius: 2 },
    { id: "m", name: "mat", mat: "90 x 80, sealed" },
  ],
};

test("a panel wider than the goods: its joints are drawn before they are there, chosen by keys, taken and undone in one action", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  const id = await newJob(page, wide);
  await page.goto(`${shop.address}#/job/${id}/panels`);
  await page.getByRole("button", { name: /hold sole/ }).first().click();
  const divide = page.getByRole("region", { name: "Piece 1, hold sole, is wider than the goods" });
  const ways = divide.getByRole("radio");
  await ways.first().waitFor();
  assert.equal(await ways.count(), 3);
  assert.match(await divide.innerText(), /J1 on D A at 50\s+J2 on B C at 50/);
  const proposed = page.locator("svg path[stroke-dasharray='10 6']");
  const inTheMiddle = await proposed.getAttribute("d");
  await page.getByText("1-1b, proposed").waitFor();
  assert.deepEqual(await broken(page), []);
  await page.screenshot({ path: `${pictures}/divide-proposed.png` });

  // Another place by the arrow keys: the drawing follows.
  await ways.first().focus();
  await page.keyboard.press("ArrowDown");
  assert.match(await divide.locator("label", { has: page.locator("input:checked") }).innerText(), /J1 on D A at 60/);
  assert.notEqual(await proposed.getAttribute("d"), inTheMiddle);
  await divide.getByRole("button", { name: "Divide it into 2 strips" }).focus();
  await page.keyboard.press("Enter");
  await page.getByRole("button", { name: /hold sole, strip 2 of 2/ }).first().waitFor();
  assert.equal(await proposed.count(), 0);
  assert.equal(await divide.count(), 0);
  const undo = page.getByRole("button", { name: /^Undo/ });
  await undo.click();
  await ways.first().waitFor();
  assert.equal(await page.getByRole("button", { name: /strip 2 of 2/ }).count(), 0);
  await page.getByRole("button", { name: /^Redo/ }).click();
  await page.getByRole("button", { name: /strip 2 of 2/ }).first().waitFor();

  // The mat has no joint lines: said with what to do, and nothing to take.
  await page.getByRole("navigation").getByRole("link", { name: /^Roll/ }).click();
  const mat = page.getByRole("region", { name: /mat, is wider than the goods/ });
  await mat.getByText("No joint is proposed: it is a plain mat").waitFor();
  assert.equal(await mat.getByRole("button").count(), 0);
  assert.deepEqual(errors, []);
});

test("on a phone the joints are taken on the roll, where the layout waits for them", async () => {
  const { page, errors } = await openPage(browser, shop.address, { viewport: { width: 390, height: 844 } });
  const id = await newJob(page, { ...wide, panels: wide.panels.slice(0, 1) });
  await page.goto(`${shop.address}#/job/${id}/roll`);
  const take = page.getByRole("button", { name: "Divide it into 2 strips" });
  await take.waitFor();
  assert.deepEqual(await broken(page), []);
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= 390));
  for (const light of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme: light });
    await page.screenshot({ path: `${pictures}/divide-390-${light}.png`, fullPage: true });
  }
  await take.click();
  await page.getByText("hold sole, strip 2 of 2").first().waitFor();
  assert.equal(await take.count(), 0);
  await page.getByRole("button", { name: "Lay out", exact: true }).click();
  await page.getByRole("button", { name: "Keep this layout" }).waitFor();
  assert.deepEqual(errors, []);
});
