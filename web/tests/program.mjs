// Starts the real program over an empty shop and a browser to look at it with.
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { after } from "node:test";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

export const pictures = process.env.SPILE_PICTURES ?? "pictures";
mkdirSync(pictures, { recursive: true });
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/// A shop of its own on a free port; `stop` and `start` again keep its book and its port.
export async function startShop() {
  const data = mkdtempSync(join(tmpdir(), "spile-page-"));
  let program = null;
  const shop = {
    address: "",
    async start() {
      const port = shop.address ? new URL(shop.address).port : "0";
      program = spawn(process.env.SPILE_PROGRAM, ["serve", "--data", data, "--port", port], { stdio: ["ignore", "pipe", "pipe"] });
      shop.address = await new Promise((found, failed) => {
        let told = "";
        const read = (bytes) => {
          told += bytes;
          const address = /http:\/\/127\.0\.0\.1:\d+\//.exec(told);
          if (address) found(address[0]);
        };
        program.stdout.on("data", read);
        program.stderr.on("data", read);
        program.on("exit", (code) => failed(new Error(`spile serve ended with ${code}: ${told}`)));
      });
    },
    async stop(signal = "SIGTERM") {
      const ended = new Promise((done) => program.on("exit", done));
      program.kill(signal);
      await ended;
    },
    async end() {
      if (program.exitCode === null && program.signalCode === null) await shop.stop();
      rmSync(data, { recursive: true, force: true });
    },
  };
  await shop.start();
  return shop;
}

export const startBrowser = () =>
  chromium.launch({ executablePath: process.env.SPILE_CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });

/// Both, for all the tests of one file.
export async function shopAndBrowser() {
  const [shop, browser] = [await startShop(), await startBrowser()];
  after(async () => {
    await browser.close();
    await shop.end();
  });
  return { shop, browser };
}

/// To a stage of the job by its name.
export const stage = (page, name) => page.getByRole("navigation").getByRole("link", { name: new RegExp(`^${name}`) }).click();
/// Until the shop has all that was done.
export const kept = (page) => page.getByText("Kept", { exact: true }).waitFor();
export const type = async (page, line) => {
  const field = page.getByLabel("Type a reading").first();
  await field.fill(line);
  await field.press("Enter");
};

/// Puts a job into the shop's book as a page would; its number.
export const newJob = (page, job) =>
  page.evaluate(async (text) => {
    const answer = await fetch("api/jobs", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ text }) });
    return (await answer.json()).head.id;
  }, JSON.stringify(job));

/// A page on which an error of our own is a failure of the test that ends it with `check()`.
export async function openPage(browser, address, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
  // A page tried before it is built into the program.
  if (process.env.SPILE_PAGE)
    await context.route((url) => !url.pathname.startsWith("/api"), async (route) => {
      const path = new URL(route.request().url()).pathname;
      const file = join(process.env.SPILE_PAGE, path === "/" ? "index.html" : path);
      if (path === "/") {
        // While the machine is away nobody answers, as without this.
        const response = await route.fetch().catch(() => null);
        return response ? route.fulfill({ response, body: readFileSync(file) }) : route.abort();
      }
      return existsSync(file) ? route.fulfill({ path: file }) : route.continue();
    });
  const page = await context.newPage();
  const errors = [];
  page.setDefaultTimeout(30_000);
  page.on("pageerror", (e) => errors.push(e.message));
  await page.goto(address);
  await page.locator("main").waitFor();
  return { page, context, errors };
}

/// Rules broken on what is shown now: WCAG 2.1 A and AA.
export async function broken(page) {
  await page.evaluate(axe);
  const result = await page.evaluate(() =>
    // eslint-disable-next-line no-undef
    axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"] }),
  );
  return result.violations.map((v) => `${v.id}: ${v.nodes.map((n) => `${n.target} ${n.failureSummary}`).slice(0, 3).join(" | ")}`);
}
