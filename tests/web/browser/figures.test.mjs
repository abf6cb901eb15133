// How quick the wall is, in the page: told as JSON lines, not asserted, for machines differ.

import { cp, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { middle, openBrowser, openPage, startWall, until } from "./wall.mjs";

let browser;
before(async () => { browser = await openBrowser(); });
after(() => browser.close());

const tell = (figure) => console.log(JSON.stringify(figure));

async function orchard(t, columns, rows) {
  const folder = await mkdtemp(join(tmpdir(), "motley-wall-"));
  await cp(process.env.PHOTOS, join(folder, "orchard"), { recursive: true });
  await writeFile(join(folder, "plan.json"), JSON.stringify({ format: "motley plan 1", name: "Figures", palette: "orchard", setting: { columns, rows } }));
  return startWall(t, { folder });
}

test("from a key press to a whole new layout on the screen, and the first picture", { timeout: 60000 }, async (t) => {
  const wall = await orchard(t, 11, 13);
  let page = await openPage(browser, wall.address);
  await page.click("#shuffle");
  await until(page, ({ top, running }) => top && !running, "a top");
  await page.waitForTimeout(1500); // Every cloth has been drawn once.
  await page.context().close();
  const began = Date.now();
  page = await openPage(browser, wall.address);
  await page.waitForFunction(async () => {
    const [{ now }, { stillComing }] = await Promise.all([import("./wire.js"), import("./cloth.js")]);
    return now.top && !stillComing();
  }, null, { polling: 10 });
  tell({ figure: "first picture, 30 cached cloths", milliseconds: Date.now() - began, wanted: 1000 });
  const times = [];
  for (let i = 0; i < 10; i += 1) {
    await page.focus("#marks");
    times.push(await page.evaluate(async () => {
      const { now, listen } = await import("./wire.js");
      const before = now.top.fabrics;
      const start = performance.now();
      const shown = new Promise((seen) => {
        listen((what) => { if (what === "top" && now.top.fabrics !== before && now.top.fabrics.some((f, k) => f !== before[k])) seen(); });
      });
      document.getElementById("marks").dispatchEvent(new KeyboardEvent("keydown", { key: "s", bubbles: true }));
      await shown;
      await new Promise((frame) => { requestAnimationFrame(() => requestAnimationFrame(frame)); });
      return performance.now() - start;
    }));
    await until(page, ({ running }) => !running, "an end");
    await page.waitForTimeout(100);
  }
  times.sort((a, b) => a - b);
  tell({ figure: "key to layout, 11 x 13, 30 fabrics", median: times[5], worst: times[9], wanted: 150 });
  assert.deepEqual(page.wrong, []);
});

/** Frames in a second while something is done at every frame. */
const frames = (page, moves) => page.evaluate(() => new Promise((done) => {
  let count = 0;
  const start = performance.now();
  const frame = () => {
    count += 1;
    if (performance.now() - start < 1500) requestAnimationFrame(frame);
    else done(count / ((performance.now() - start) / 1000));
  };
  requestAnimationFrame(frame);
}), moves);

test("frames while dragging at 40 by 40, against an empty page", { timeout: 60000 }, async (t) => {
  const wall = await orchard(t, 40, 40);
  const page = await openPage(browser, wall.address);
  await page.click("#shuffle");
  await page.waitForFunction(async () => (await import("./wire.js")).now.top, null, { timeout: 20000 });
  await page.click("#stop");
  await until(page, ({ top, running }) => top && !running, "a top");
  await page.waitForTimeout(1500);
  const empty = await (await browser.newContext()).newPage();
  await empty.goto("about:blank");
  const bare = await frames(empty);
  await empty.context().close();
  const [x, y] = await middle(page, 5, 5);
  await page.mouse.move(x, y);
  await page.mouse.down();
  const counting = frames(page);
  for (let i = 0; i < 90; i += 1) await page.mouse.move(x + 3 * i, y + 2 * i);
  const dragging = await counting;
  await page.mouse.up();
  await page.click("text=slides the wall");
  await page.mouse.move(x, y);
  await page.mouse.down();
  const panning = frames(page);
  for (let i = 0; i < 90; i += 1) await page.mouse.move(x + i, y + i);
  tell({ figure: "frames a second at 40 x 40", dragging, sliding: await panning, empty_page: bare, wanted: 50 });
  await page.mouse.up();
  assert.deepEqual(page.wrong, []);
});
