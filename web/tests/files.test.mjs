// What comes in and goes back by file: a drawing made elsewhere, a copy in the place of the book; and what the days came to.
import assert from "node:assert/strict";
import { test } from "node:test";
import { broken, openPage, pictures, shopAndBrowser } from "./program.mjs";

const { shop, browser } = await shopAndBrowser();

const file = (name, text) => ({ name, mimeType: "application/octet-stream", buffer: Buffer.from(text) });
const svg =
  `<svg xmlns="http://www.w3.org/2000/svg" width="60in" height="30in" viewBox="0 0 60 30">` +
  `<g id="soles"><path d="M0 0H36V30H0Z"/><circle cx="18" cy="15" r="2"/></g><g id="lids"><path d="M40 2H58V20H40Z"/></g></svg>`;

test("a drawing made elsewhere: looked at, picked from, made a job of; what it lacks is asked for", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  const choose = page.locator("label", { hasText: "Open a drawing made elsewhere" }).locator("input");
  await choose.setInputFiles(file("sole.doc", "x"));
  await page.getByText("ends neither in").waitFor();
  await page.getByRole("button", { name: "Cancel" }).click();
  await choose.setInputFiles(file("huge.svg", "x".repeat(12_000_000)));
  await page.getByText("are taken").waitFor();

  await choose.setInputFiles(file("sheet.svg", svg));
  await page.getByRole("heading", { name: "3 of 3 outlines taken" }).waitFor();
  await page.screenshot({ path: `${pictures}/drawing.png` });
  assert.deepEqual(await broken(page), []);
  await page.getByRole("complementary").getByLabel(/lids/).first().uncheck();
  await page.getByRole("heading", { name: "2 of 3 outlines taken" }).waitFor();
  await page.getByLabel("Title").fill("From the sheet");
  await page.getByRole("button", { name: "Make a job of it" }).click();
  await page.getByRole("heading", { name: "Panels" }).first().waitFor();
  await page.getByRole("button", { name: /^1 soles/ }).first().click();
  await page.getByRole("button", { name: "Opening: opening 1", exact: true }).waitFor();
  await page.screenshot({ path: `${pictures}/drawing-job.png` });

  // No unit in it: asked for.
  await page.getByRole("link", { name: "All jobs" }).click();
  await choose.setInputFiles(file("mat.csv", "0,0\n24,0\n24,18\n0,18\n"));
  await page.getByText("does not say in which unit").waitFor();
  await page.getByLabel("Drawn in").selectOption("inches");
  await page.getByRole("heading", { name: "1 of 1 outline taken" }).waitFor();
  for (const [width, colorScheme] of [[390, "light"], [1280, "dark"], [2560, "light"]]) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme });
    await page.screenshot({ path: `${pictures}/drawing-${width}-${colorScheme}.png` });
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width);
    assert.deepEqual(await broken(page), [], `${width} ${colorScheme}`);
  }
  assert.deepEqual(errors, []);
});

test("what the days came to", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  await page.getByRole("navigation", { name: "The shop" }).getByRole("link", { name: "Totals" }).click();
  await page.getByText("No money in these days").waitFor();
  await page.getByText("Jobs begun, now enquiry").waitFor();
  await page.getByRole("button", { name: "Last year" }).click();
  await page.getByText("Jobs begun, now enquiry").waitFor({ state: "detached" });
  assert.deepEqual(await broken(page), []);
  assert.deepEqual(errors, []);
});

test("a copy is put in the place of the book: proved first, said by a person, other pages show it, and back again", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  const nav = (name) => page.getByRole("navigation", { name: "The shop" }).getByRole("link", { name }).click();
  await nav("Safe keeping");
  await page.getByRole("button", { name: "Make a copy now" }).click();
  await page.getByRole("button", { name: "Put it back" }).waitFor();
  // Another page works on a job of which the copy knows nothing yet.
  const two = await openPage(browser, shop.address);
  await two.page.getByLabel("What is it for?").fill("After the copy");
  await two.page.getByRole("button", { name: "Begin", exact: true }).click();
  await two.page.getByRole("button", { name: "Begin taping" }).click();
  await two.page.getByText("Kept", { exact: true }).waitFor();

  await page.getByRole("button", { name: "Put it back" }).click();
  await page.getByRole("button", { name: "Leave the book as it is" }).click();
  await page.getByRole("button", { name: "Put it back" }).click();
  await page.screenshot({ path: `${pictures}/put-back.png` });
  assert.deepEqual(await broken(page), []);
  await page.getByRole("button", { name: "Put this copy in its place" }).click();
  await page.getByText("is the book now").waitFor({ timeout: 60_000 });
  await page.screenshot({ path: `${pictures}/put-back-done.png` });
  await two.page.getByText("There is no such job here").waitFor({ timeout: 60_000 });
  await nav("Jobs");
  await page.locator(".jobs a").first().waitFor();
  assert.equal(await page.locator(".jobs a", { hasText: "After the copy" }).count(), 0);

  // Killed and started again it is still so; and the book before it can be put back.
  await shop.stop("SIGKILL");
  await shop.start();
  await page.reload();
  await nav("Safe keeping");
  await page.locator(".copies .card", { hasText: "the book before" }).getByRole("button", { name: "Put it back" }).click();
  await page.getByRole("button", { name: "Put this copy in its place" }).click();
  await page.getByText("is the book now").waitFor({ timeout: 60_000 });
  await nav("Jobs");
  await page.locator(".jobs a", { hasText: "After the copy" }).waitFor();
  assert.deepEqual(errors, []);
});

test("a copy from a stick: looked through before it stands among the copies; a screen of the stock in another page shows the book that is put back", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  const nav = (p, name) => p.getByRole("navigation", { name: "The shop" }).getByRole("link", { name }).click();
  await nav(page, "Safe keeping");
  await page.getByRole("button", { name: "Make a copy now" }).click();
  const away = page.getByRole("link", { name: "Carry it away" }).first();
  await page.getByText(/pages, every index/).first().waitFor();
  const bytes = Buffer.from(await page.evaluate(async (at) => [...new Uint8Array(await (await fetch(at)).arrayBuffer())], await away.getAttribute("href")));

  const bring = page.getByLabel("Bring a copy from a stick or another machine");
  const refused = page.getByRole("alert");
  await bring.setInputFiles({ name: "holiday.spile", mimeType: "image/jpeg", buffer: Buffer.from("no book at all") });
  await refused.getByText("What was brought is no shop's book").waitFor();
  await bring.setInputFiles({ name: "half.spile", mimeType: "application/octet-stream", buffer: bytes.subarray(0, bytes.length / 2) });
  await refused.getByText(/What was brought/).waitFor();
  assert.deepEqual(await broken(page), []);
  await bring.setInputFiles({ name: "shop.spile", mimeType: "application/octet-stream", buffer: bytes });
  await page.getByText("brought from elsewhere").waitFor();
  await page.screenshot({ path: `${pictures}/brought.png`, fullPage: true });
  assert.equal(await refused.count(), 0);

  // Another page shows the stock: what is written here stands there, and is gone again with the book that did not know it.
  const two = await openPage(browser, shop.address);
  await nav(two.page, "Stock");
  await two.page.getByText("Three things to begin with").waitFor();
  await page.evaluate(() =>
    fetch("api/goods", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ name: "awning cloth", goods: { name: "awning cloth", width: "60 in" } }) }),
  );
  await two.page.getByText("awning cloth").first().waitFor();
  await page.locator(".copies .card", { hasText: "brought from elsewhere" }).getByRole("button", { name: "Put it back" }).click();
  await page.getByRole("button", { name: "Put this copy in its place" }).click();
  await page.getByText("is the book now").waitFor({ timeout: 60_000 });
  await two.page.getByText("Three things to begin with").waitFor({ timeout: 60_000 });
  assert.deepEqual([...errors, ...two.errors], []);
});
