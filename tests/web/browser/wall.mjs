// What the browser tests share: the program started on a project, the browser, and ways to act.

import { spawn } from "node:child_process";
import { mkdtemp, mkdir, readdir, writeFile, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readFileSync } from "node:fs";
import { chromium } from "playwright-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

export const photos = async (count) => (await readdir(process.env.PHOTOS))
  .filter((name) => name.endsWith(".jpg")).sort().slice(0, count).map((name) => join(process.env.PHOTOS, name));

/** The wall of a folder; `plan` is written there first when given. It goes with the test. */
export async function startWall(t, { plan, folder } = {}) {
  const where = folder ?? await mkdtemp(join(tmpdir(), "motley-wall-"));
  if (plan) await writeFile(join(where, "plan.json"), JSON.stringify(plan));
  const program = spawn(process.env.MOTLEY, ["wall", where, "--no-open"], { stdio: ["ignore", "pipe", "inherit"] });
  const address = await new Promise((found, failed) => {
    let text = "";
    program.stdout.on("data", (data) => {
      text += data;
      const match = text.match(/http:\S+/);
      if (match) found(match[0]);
    });
    program.on("exit", (code) => failed(new Error(`the program left with ${code}`)));
  });
  t.after(async () => {
    const gone = new Promise((left) => { program.on("exit", left); });
    program.kill("SIGTERM");
    await gone;
    await rm(where, { recursive: true, force: true });
  });
  return { address, folder: where };
}

export const openBrowser = () => chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });

/** A page that fails the test when anything on it goes wrong. */
export async function openPage(browser, address, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1360, height: 860 }, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  page.wrong = [];
  page.on("pageerror", (error) => page.wrong.push(String(error.stack)));
  page.on("console", (message) => { if (message.type() === "error" && !/422/.test(message.text())) page.wrong.push(message.text()); });
  page.on("request", (request) => { if (!request.url().startsWith(new URL(address).origin) && !request.url().startsWith("blob:")) page.wrong.push(`beyond this machine: ${request.url()}`); });
  await page.goto(address);
  await page.waitForFunction(() => document.title.includes("design wall"));
  return page;
}

/** What axe-core finds, by the rules of WCAG 2.2 A and AA and its best practices. */
export async function axeFinds(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join(" | ")}`);
}

export async function shot(page, name) {
  await mkdir(process.env.SHOTS, { recursive: true });
  await page.screenshot({ path: join(process.env.SHOTS, `${name}.png`), fullPage: true });
}

/** The state as the program tells it. */
export const state = (page) => page.evaluate(async () => (await fetch("state")).json());

/** Waits until the program's state is so. */
export async function until(page, so, what, patience = 20000) {
  const end = Date.now() + patience;
  for (;;) {
    const view = await state(page);
    if (so(view)) return view;
    if (Date.now() > end) throw new Error(`never: ${what}; said ${await page.textContent("#status")}`);
    await page.waitForTimeout(40);
  }
}

/** Where the middle of a unit lies on the screen. */
export const middle = (page, row, column) => page.evaluate(async ([r, c]) => {
  const { camera } = await import("./wall.js");
  const { now } = await import("./wire.js");
  const cell = now.top.cells.find((one) => one[1] === r && one[2] === c);
  const box = document.getElementById("marks").getBoundingClientRect();
  const ratio = window.devicePixelRatio;
  return [box.left + (cell[3] * camera.scale + camera.x) / ratio, box.top + (cell[4] * camera.scale + camera.y) / ratio, cell[0]];
}, [row, column]);

/** By the Tab key alone to what a selector names. */
export async function tabTo(page, selector) {
  for (let i = 0; i < 160; i += 1) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted) ?? false, selector)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never comes to ${selector}`);
}
