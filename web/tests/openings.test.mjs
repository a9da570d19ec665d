// Openings of each form by clicks and keys, and what goes with them: slits, new snaps, lids, a twin.
import assert from "node:assert/strict";
import { test } from "node:test";
import { broken, kept, openPage, pictures, stage, type, shopAndBrowser } from "./program.mjs";

const { shop, browser } = await shopAndBrowser();

/// What is shown now, on a telephone and on a screen, in both lights: a picture kept, no rule broken, nothing too wide.
async function lookAt(page, name) {
  for (const [width, height] of [[390, 844], [1280, 800]])
    for (const colorScheme of ["light", "dark"]) {
      await page.setViewportSize({ width, height });
      await page.emulateMedia({ colorScheme });
      await page.screenshot({ path: `${pictures}/${name}-${width}-${colorScheme}.png`, fullPage: true });
      assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width, `${name} at ${width}`);
      assert.deepEqual(await broken(page), [], `${name} at ${width} ${colorScheme}`);
    }
  await page.emulateMedia({ colorScheme: "light" });
}

test("openings of each form, a slit to an edge, new snaps, a twin: by clicks and keys, and what cannot be is said", async () => {
  const { page, errors } = await openPage(browser, shop.address);
  await page.getByLabel("What is it for?").fill("Openings");
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("button", { name: "Begin taping" }).click();
  for (const line of ["A B 60", "B C 45", "C D 60", "D A 45", "A C 75", "B D 75"]) await type(page, line);
  for (const line of ["P on A B at 15 off 25 left", "Q on A B at 36 off 10 left", "R on A B at 46 off 10 left"]) await type(page, line);
  for (const line of ["T1 on A B at 38 off 25 left", "T2 on A B at 50 off 25 left", "T3 on A B at 44 off 36 left"]) await type(page, line);
  await page.getByLabel("Walk round it").fill("A B C D");
  await page.getByLabel("Towards the bow").fill("A B");
  await page.getByLabel("Towards the bow").press("Enter");
  await stage(page, "Panels");
  await page.getByLabel("the back, mirrored").check();
  await page.getByRole("button", { name: "New panel" }).click();
  await page.getByLabel("Name").fill("sole");
  await page.getByLabel("Corners, walking round it").fill("A B C D");
  await page.getByRole("button", { name: "Make the panel" }).click();
  // Snaps by rule: one in each corner, then more so that none are too far apart. Finished it is 59 5/8 by 44 5/8, between
  // the corner snaps 57 7/8 by 42 7/8: three more and two more a side for 15 in, two and two for 20 in.
  await page.getByRole("radio", { name: /^In each corner/ }).check();
  await page.getByText("4 snaps in all").waitFor();
  await page.getByRole("radio", { name: "Corners and edges" }).check();
  await page.getByText("14 snaps in all").waitFor();
  await page.getByLabel("No two farther apart than").fill("20");
  await page.getByLabel("No two farther apart than").press("Enter");
  await page.getByText("12 snaps in all").waitFor();
  await page.getByLabel("From the finished edge").fill("0");
  await page.getByLabel("From the finished edge").press("Enter");
  await page.locator(".hint.bad").waitFor(); // the core's own words; nothing has changed
  await page.getByLabel("From the finished edge").fill("1 1/8");
  await page.getByLabel("From the finished edge").press("Enter");
  await lookAt(page, "new-snaps");
  const open = async (form) => {
    await page.getByRole("button", { name: "New opening" }).click();
    await page.getByRole("radio", { name: form }).check();
  };
  const make = page.getByRole("button", { name: "Make the opening" });
  const chosen = (name) => page.getByRole("heading", { name: `Opening: ${name}` }).waitFor();

  // A box that is not lifted over: its point tapped on the drawing, its size as on the tape.
  await open("Box");
  await page.locator("svg.view g", { hasText: /^P$/ }).click();
  await page.getByLabel("What for").fill("pedestal");
  await page.getByLabel("Length by width of what passes").fill("9");
  await make.click();
  await page.getByRole("alert").getByText("two lengths", { exact: false }).first().waitFor(); // the core's own words
  await page.getByLabel("Length by width of what passes").fill("9 x 6 1/2");
  await lookAt(page, "new-opening");
  await make.click();
  await chosen("pedestal");
  await page.getByLabel("Radius of its corners").fill("1");
  await page.getByLabel("Radius of its corners").press("Enter");
  await page.getByLabel("Ease all round").fill("3/8");
  await page.getByLabel("Ease all round").press("Enter");
  await page.getByRole("radio", { name: /^Bound/ }).check();
  const whole = (await page.locator("svg.view path[fill-rule]").getAttribute("d")).match(/Z/gi).length;
  await page.getByLabel("Slit to an edge").selectOption("To edge D A");
  await page.getByLabel("Gap of the slit").fill("1/8");
  await page.getByLabel("Gap of the slit").press("Enter");
  // The hole and the outside are one line now.
  const slit = (await page.locator("svg.view path[fill-rule]").getAttribute("d")).match(/Z/gi).length;
  assert.deepEqual([whole, slit], [2, 1]);
  assert.equal(await page.getByLabel("Slit to an edge").locator("option:checked").innerText(), "To edge D A");
  await lookAt(page, "slit-opening");
  // A place that nobody measured is refused beside the field, and the panel stays.
  await page.getByLabel("At point").fill("Z");
  await page.getByLabel("At point").press("Enter");
  await page.locator(".hint.bad").waitFor();
  await page.getByLabel("At point").press("Escape");

  // The edge it parts is still one edge: what is said of it stands, and the panel too.
  await page.getByText("The drawing in words").click();
  await page.getByRole("button", { name: /^D pedestal 1:/ }).click();
  await page.getByRole("heading", { name: "Edge D A" }).waitFor();
  await page.getByRole("radio", { name: /^Nothing/ }).check();
  await page.getByRole("button", { name: /^pedestal 4 A:.*free/ }).click();
  await page.getByRole("heading", { name: "Edge D A" }).waitFor();
  await page.getByText("The drawing in words").click();

  for (const [form, points, size] of [
    ["Slot", "Q R", "2"],
    ["Any other", "T1 T2 T3", ""],
  ]) {
    await page.getByRole("button", { name: "The whole panel" }).click();
    await open(form);
    await page.getByLabel(form === "Slot" ? "From and to" : "Points going round it").fill(points);
    if (size) await page.getByLabel("Width of what passes").fill(size);
    await make.click();
    await chosen(form === "Slot" ? "slot" : "outline");
  }
  await page.getByText("Its corners, rounded").click();
  await page.getByLabel("Radius at T2").fill("1 1/2");
  await page.getByLabel("Radius at T2").press("Enter");
  await page.getByLabel("Slit to an edge").selectOption("Where it is least seen");
  await lookAt(page, "free-opening");
  await page.getByRole("button", { name: "Take out" }).click();
  // A lid that lifts out: a panel of its own, cut out of this one with a gap.
  await page.getByRole("button", { name: "New panel" }).click();
  await page.getByLabel("Name").first().fill("hatch lid");
  await page.getByLabel("Corners, walking round it").fill("T1 T2 T3");
  await page.getByRole("button", { name: "Make the panel" }).click();
  await page.locator(".side .finding", { hasText: "A B C D" }).click();
  await open("A lid");
  await make.click();
  await chosen("hatch");
  assert.equal(await page.getByLabel("The panel that lifts out").locator("option:checked").innerText(), "hatch lid");
  await page.getByLabel("Gap all round").fill("3/16");
  await page.getByLabel("Gap all round").press("Enter");
  await lookAt(page, "lid");
  // A twin is assumed until somebody ticks that it was checked.
  await page.getByText("Mirror twin of another").click();
  await page.getByLabel("Name").first().fill("sole, other side");
  await page.getByRole("button", { name: "Make the twin" }).click();
  await page.getByText("mirror twin of sole, assumed").waitFor();
  const assumed = page.getByText("is assumed to be the mirror twin of panel");
  await assumed.waitFor();
  const hands = page.getByLabel("Line between the two hands");
  await hands.fill("A");
  await hands.press("Enter");
  await page.getByText("Two points, such as").waitFor();
  await hands.fill("A, B");
  await hands.press("Enter");
  await page.getByRole("button", { name: "Undo" }).and(page.getByTitle(/Line between the two hands: A, B/)).waitFor();
  assert.equal(await hands.inputValue(), "A B");
  await lookAt(page, "twin");
  await page.getByLabel("Its check sizes were taped aboard and agree").check();
  await page.getByText("mirror twin of sole, checked").waitFor();
  await assumed.waitFor({ state: "detached" });
  // One that has a shape of its own gives it up for another's, and undo brings it back.
  await page.getByText("Plain mat").click();
  await page.getByLabel("Finished size").fill("24 x 36");
  await page.getByRole("button", { name: "Make the panel" }).click();
  await page.getByRole("button", { name: "New opening" }).click();
  assert.equal(await page.getByRole("radio", { name: "Slot" }).count(), 0, "a plain mat has no points");
  await page.getByLabel("At point").fill("12 x 18");
  await page.getByLabel("Diameter of what passes").fill("3");
  await make.click();
  await chosen("post");
  await page.getByLabel("Slit to an edge").selectOption("To edge B C");
  await page.getByRole("button", { name: "The whole panel" }).click();
  await page.getByText("Make it a mirror twin").click();
  await page.getByLabel("Mirror twin of", { exact: true }).last().selectOption("sole");
  await page.getByText("mirror twin of sole, assumed").waitFor();
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByText("24 x 36").waitFor();
  await page.getByRole("button", { name: "Opening: post" }).first().click();
  assert.equal(await page.getByLabel("Slit to an edge").locator("option:checked").innerText(), "To edge B C");
  await page.getByRole("button", { name: "The whole panel" }).click();
  await kept(page);
  // What was kept is what was said.
  await page.reload();
  await page.locator(".side .finding", { hasText: "A B C D" }).click();
  await page.getByRole("button", { name: "Opening: pedestal" }).first().click();
  assert.equal(await page.getByLabel("Length by width of what passes").inputValue(), "9 x 6 1/2");
  assert.equal(await page.getByLabel("Gap of the slit").inputValue(), "1/8");
  assert.equal(await page.getByRole("button", { name: /^Opening: outline/ }).count(), 0);
  assert.deepEqual(errors, []);
});
