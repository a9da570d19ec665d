// Several pages on one job, and a page whose machine has gone away.
import assert from "node:assert/strict";
import { test } from "node:test";
import { kept, openPage, type, shopAndBrowser } from "./program.mjs";

const { shop, browser } = await shopAndBrowser();

test("two tabs: different readings meet, the same reading is shown twice", async () => {
  const one = await openPage(browser, shop.address);
  await one.page.getByLabel("What is it for?").fill("Two tabs");
  await one.page.getByRole("button", { name: "Begin", exact: true }).click();
  await one.page.getByRole("button", { name: "Begin taping" }).click();
  await type(one.page, "A B 40");
  await kept(one.page);
  const two = await openPage(browser, one.page.url());
  await type(two.page, "B C 30");
  await one.page.locator(".reading", { hasText: "B C 30" }).waitFor();
  // Both change A B while they do not hear of each other.
  await one.context.setOffline(true);
  await two.context.setOffline(true);
  const change = async (page, line, from = "A B 40") => {
    const open = page.getByLabel("The reading", { exact: true });
    if (!(await open.isVisible())) await page.locator(".reading", { hasText: from }).click();
    await page.getByLabel("The reading", { exact: true }).fill(line);
    await page.getByLabel("The reading", { exact: true }).press("Enter");
  };
  await change(one.page, "A B 41");
  await change(two.page, "A B 42");
  // More is done before anybody hears: it goes on top of what the other did.
  await type(two.page, "C D 12");
  await change(two.page, "A B 44", "A B 42");
  await one.context.setOffline(false);
  await kept(one.page);
  await two.context.setOffline(false);
  await kept(two.page);
  await two.page.getByText("Two people said this differently").first().waitFor();
  await one.page.getByText("Two people said this differently").first().waitFor();
  await one.page.locator(".reading", { hasText: "C D 12" }).waitFor();
  await one.page.getByRole("button", { name: /^Keep/ }).first().click();
  await two.page.getByText("Two people said this differently").first().waitFor({ state: "detached" });
  assert.deepEqual([...one.errors, ...two.errors], []);
});

test("the shop's machine goes away and comes back: nothing typed is lost", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  await page.getByLabel("What is it for?").fill("Cable pulled");
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("button", { name: "Begin taping" }).click();
  await type(page, "A B 40");
  await kept(page);
  await shop.stop("SIGKILL");
  await type(page, "B C 30");
  await type(page, "C A 50");
  await page.getByText("changes wait").waitFor();
  await page.locator(".reading", { hasText: "C A 50" }).waitFor();
  await shop.start();
  await kept(page);
  await page.reload();
  await page.locator(".reading", { hasText: "C A 50" }).waitFor();
  assert.equal(await page.locator(".reading").count(), 3);
  assert.deepEqual(errors, []);
});
