// The whole job, three times: by mouse, by keyboard alone, by touch on a narrow screen.

import assert from "node:assert/strict";
import { access, readFile } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { axeFinds, middle, openBrowser, openPage, photos, shot, startWall, state, tabTo, until } from "./wall.mjs";

let browser;
before(async () => { browser = await openBrowser(); });
after(() => browser.close());

const patches = (view) => view.top.fabrics;

async function putPhotosByChooser(page, press, count = 8) {
  const chooser = page.waitForEvent("filechooser");
  await press();
  await (await chooser).setFiles(await photos(count));
  return until(page, (view) => view.fabrics.length === count, `${count} photos on the shelf`, 60000);
}

async function filesAreThere(folder) {
  for (const name of ["handout.pdf", "preview.png", "values.png", "counts.csv", "cutting.csv", "buying.csv", "layout.json", "plan.json"])
    await access(join(folder, "export", name));
  assert.match((await readFile(join(folder, "export/handout.pdf"))).subarray(0, 5).toString(), /%PDF-/);
}

test("the whole job by mouse, and every control", { timeout: 120000 }, async (t) => {
  const wall = await startWall(t);
  const page = await openPage(browser, wall.address);
  assert.deepEqual(await axeFinds(page), []);
  let view = await putPhotosByChooser(page, () => page.click("text=Put photos here"));
  assert.ok(view.fabrics.every(({ value, lightness }) => value && lightness > 0), "measured at once");
  await page.click("#tab-planning");
  for (const [label, value] of [["Units across", "6"], ["Units down", "7"]]) {
    await page.getByLabel(label).fill(value);
    await page.getByLabel(label).press("Enter");
  }
  view = await until(page, ({ plan }) => plan.setting.columns === 6 && plan.setting.rows === 7, "6 by 7");
  await page.click("#shuffle");
  view = await until(page, ({ top, running }) => top && !running, "a top");
  assert.equal(view.troubles.length, 0);

  // Drag to swap, undo, redo.
  const [x, y, one] = await middle(page, 0, 0);
  const [u, v, other] = await middle(page, 3, 4);
  const first = patches(view);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move((x + u) / 2, (y + v) / 2, { steps: 4 });
  await page.mouse.move(u, v, { steps: 4 });
  await page.mouse.up();
  view = await until(page, ({ undo }) => undo?.startsWith("Swap"), "a swap");
  assert.equal(patches(view)[one], first[other]);
  await page.click("#undo");
  view = await until(page, ({ redo }) => redo?.startsWith("Swap"), "an undo");
  assert.deepEqual(patches(view), first);
  await page.click("#redo");
  await until(page, ({ undo }) => undo?.startsWith("Swap"), "a redo");
  await page.click("#undo");

  // One unit: pin, sewn, swap by pressing, replace.
  await page.mouse.click(x, y);
  await page.click("#unit >> text=Pin");
  await until(page, ({ pinned }) => pinned.includes(one), "a pin");
  await page.click("#unit >> text=Sewn");
  await until(page, ({ sewn }) => sewn.includes(one), "sewn");
  await page.click("#unit >> text=Not sewn yet");
  await page.click("#unit >> text=Take pin out");
  view = await until(page, ({ pinned, sewn }) => pinned.length === 0 && sewn.length === 0, "neither");
  await page.click("#unit >> text=Swap with");
  await page.mouse.click(u, v);
  await until(page, ({ undo }) => undo?.startsWith("Swap"), "a swap by pressing");
  await page.click("#undo");
  await page.mouse.click(x, y);
  const neighbour = (await state(page)).fabrics[patches(view)[one + 1]].id;
  await page.selectOption("#unit select", neighbour);
  await page.click("#unit >> text=Put here");
  view = await until(page, ({ conflicts }) => conflicts.length > 0, "a broken rule, shown");
  assert.ok(await page.isVisible("#troubles"));
  await shot(page, "desktop-trouble");
  assert.deepEqual(await axeFinds(page), []);
  await page.click("#troubles >> text=Mend");
  view = await until(page, ({ troubles, running }) => troubles.length === 0 && !running, "mended");

  // An area, shuffled alone.
  await page.click("text=chooses an area");
  const [ax, ay] = await middle(page, 0, 0);
  const [bx, by] = await middle(page, 2, 2);
  await page.mouse.move(ax - 8, ay - 8);
  await page.mouse.down();
  await page.mouse.move(bx + 8, by + 8, { steps: 5 });
  await page.mouse.up();
  await page.click("text=Shuffle only these");
  await until(page, ({ undo, running }) => undo === "Shuffle a part" && !running, "a part shuffled");
  await page.click("text=swaps units");

  for (const look of ["values", "squint", "letters", "cloth"]) {
    await page.click(`#views >> text=${look}`);
    await page.waitForTimeout(150);
    await shot(page, `desktop-${look}`);
  }
  await page.click("#nearer");
  await page.mouse.move(u, v);
  await page.mouse.wheel(0, -300);
  await page.click("#whole");

  // Short of a fabric.
  await page.click("#tab-shelf");
  await page.locator(".fabrics summary").first().click();
  await page.locator(".fabrics button", { hasText: "Mend" }).first().click();
  await until(page, ({ undo, running }) => undo === "Mend" && !running, "mended a shortage");
  assert.deepEqual(await axeFinds(page), []);

  await page.click("#tab-kept");
  await page.click("text=Show six others");
  view = await until(page, ({ candidates, running }) => candidates.length > 1 && !running, "candidates", 60000);
  await page.waitForTimeout(300);
  await shot(page, "desktop-candidates");
  assert.deepEqual(await axeFinds(page), []);
  await page.click("text=Candidate 2");
  await until(page, ({ undo }) => undo === "Take candidate 2", "a candidate taken");
  await page.getByLabel("Keep the wall as").fill("the second");
  await page.click("[data-keep=keep]");
  await until(page, ({ versions }) => versions.length === 1, "a version");
  await page.click("#undo");
  await page.click("text=Bring back");
  await until(page, ({ undo }) => undo === "Bring back the second", "a version brought back");

  await page.click("#tab-cloth");
  await page.waitForSelector("text=To buy", { timeout: 20000 });
  assert.deepEqual(await axeFinds(page), []);
  await page.click("#tab-home");
  await page.click("text=Write everything");
  await page.waitForSelector("a:text-is('handout.pdf')", { timeout: 60000 });
  await filesAreThere(wall.folder);
  const download = page.waitForEvent("download");
  await page.click("a:text-is('handout.pdf')");
  assert.equal((await download).suggestedFilename(), "handout.pdf");
  assert.deepEqual(await axeFinds(page), []);
  assert.deepEqual(page.wrong, []);
});

test("the whole job by keyboard alone", { timeout: 120000 }, async (t) => {
  const wall = await startWall(t);
  const page = await openPage(browser, wall.address);
  const { keyboard } = page;
  await putPhotosByChooser(page, async () => {
    await tabTo(page, "[data-keep=photos]");
    await keyboard.press("Enter");
  });
  await tabTo(page, "#tab-shelf");
  await keyboard.press("ArrowRight");
  await tabTo(page, "[data-keep='/setting/columns']");
  await keyboard.press("Control+a");
  await keyboard.type("5");
  await keyboard.press("Tab");
  await until(page, ({ plan }) => plan.setting.columns === 5, "5 across");
  await tabTo(page, "[data-keep='/setting/rows']");
  await keyboard.press("Control+a");
  await keyboard.type("6");
  await keyboard.press("Tab");
  await until(page, ({ plan }) => plan.setting.rows === 6, "6 down");
  await tabTo(page, "#shuffle");
  await keyboard.press("Enter");
  let view = await until(page, ({ top, running }) => top && !running, "a top");
  await tabTo(page, "#marks");
  await keyboard.press("Home");
  await keyboard.press("ArrowRight");
  await keyboard.press("ArrowDown");
  assert.match(await page.textContent("#status"), /row 2, column 2: /);
  await keyboard.press("p");
  view = await until(page, ({ pinned }) => pinned.length === 1, "a pin");
  const [held] = view.pinned;
  const kept = patches(view)[held];
  await keyboard.press("s");
  view = await until(page, ({ undo, running }) => undo === "Shuffle" && !running, "a shuffle by key");
  assert.equal(patches(view)[held], kept, "a pinned unit stays");
  await keyboard.press("x");
  await keyboard.press("ArrowRight");
  await keyboard.press("Enter");
  await until(page, ({ undo }) => undo?.startsWith("Swap"), "a swap by key");
  await keyboard.press("Control+z");
  view = await until(page, ({ redo }) => redo?.startsWith("Swap"), "undone by key");
  await keyboard.press("Shift+ArrowRight");
  await keyboard.press("Shift+ArrowDown");
  await keyboard.press("a");
  await until(page, ({ undo, running }) => undo === "Shuffle a part" && !running, "a part by key");
  await keyboard.press("Escape");
  await keyboard.press("v");
  assert.match(await page.textContent("#status"), /values/);
  await keyboard.press("w");
  await until(page, ({ sewn }) => sewn.length === 1, "sewn by key");
  await tabTo(page, "#tab-planning");
  await keyboard.press("ArrowLeft");
  await tabTo(page, ".fabrics summary");
  await keyboard.press("Enter");
  await tabTo(page, "[data-keep$=' mend']");
  await keyboard.press("Enter");
  await until(page, ({ undo, running }) => undo === "Mend" && !running, "mended by key");
  await tabTo(page, "#tab-shelf");
  await keyboard.press("End");
  await tabTo(page, "[data-keep=write]");
  await keyboard.press("Enter");
  await page.waitForSelector("a:text-is('handout.pdf')", { timeout: 60000 });
  await filesAreThere(wall.folder);
  assert.deepEqual(page.wrong, []);
});

test("the whole job by touch, 390 pixels wide, in the dark", { timeout: 120000 }, async (t) => {
  const wall = await startWall(t);
  const page = await openPage(browser, wall.address, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2, colorScheme: "dark" });
  const fitsAcross = async () => assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= 390), "nothing sticks out");
  await fitsAcross();
  await putPhotosByChooser(page, () => page.locator("text=Put photos here").tap());
  await fitsAcross();
  await page.locator("#tab-planning").tap();
  await page.getByLabel("Units across").fill("5");
  await page.getByLabel("Units down").fill("6");
  await page.getByLabel("Units down").blur();
  await until(page, ({ plan }) => plan.setting.columns === 5 && plan.setting.rows === 6, "5 by 6");
  await fitsAcross();
  await page.locator("#shuffle").tap();
  await until(page, ({ top, running }) => top && !running, "a top");
  await page.waitForTimeout(400);
  await shot(page, "phone-dark-plan");
  await page.locator("#stage").scrollIntoViewIfNeeded();
  let [x, y, cell] = await middle(page, 1, 1);
  await page.touchscreen.tap(x, y);
  await page.locator("#unit >> text=Pin").tap();
  await until(page, ({ pinned }) => pinned.includes(cell), "a pin by touch");
  await page.locator("#shuffle").tap();
  await until(page, ({ undo, running }) => undo === "Shuffle" && !running, "shuffled again");
  await page.locator("#unit >> text=Swap with").tap();
  await page.locator("#stage").scrollIntoViewIfNeeded();
  // A unit of another fabric: two alike would change nothing.
  const seen = await state(page);
  for (const [row, column] of [[3, 3], [4, 3], [3, 2], [5, 0]]) {
    [x, y, cell] = await middle(page, row, column);
    if (patches(seen)[cell] !== patches(seen)[seen.pinned[0]]) break;
  }
  await page.touchscreen.tap(x, y);
  await until(page, ({ undo }) => undo?.startsWith("Swap"), "a swap by touch");
  await page.locator("#undo").tap();
  await page.locator("#tab-shelf").tap();
  await page.locator(".fabrics summary").first().tap();
  await fitsAcross();
  await shot(page, "phone-dark-shelf");
  assert.deepEqual(await axeFinds(page), []);
  await page.locator(".fabrics button", { hasText: "Mend" }).first().tap();
  await until(page, ({ undo, running }) => undo === "Mend" && !running, "mended by touch");
  for (const tab of ["cloth", "kept", "home"]) {
    await page.locator(`#tab-${tab}`).tap();
    await fitsAcross();
    assert.deepEqual(await axeFinds(page), []);
  }
  await page.locator("text=Write everything").tap();
  await page.waitForSelector("a:text-is('handout.pdf')", { timeout: 60000 });
  await filesAreThere(wall.folder);
  await page.emulateMedia({ colorScheme: "light" });
  await shot(page, "phone-light-home");
  assert.deepEqual(await axeFinds(page), []);
  assert.deepEqual(page.wrong, []);
});
