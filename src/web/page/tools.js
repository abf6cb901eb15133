// What can be done with the chosen units, and the buttons at the top.

import { by, button, choice, count, el, fill, say, select } from "./words.js";
import { ask, listen, now } from "./wire.js";
import { choiceChanged, describe, fit, onChoice, requestMarks, setLook, wall, zoom } from "./wall.js";
import { dragging, keyWords, meant } from "./hands.js";

const looks = [["cloth", "cloth"], ["values", "values"], ["squint", "squint"], ["letters", "letters"]];

function chosenOr(words) {
  const cells = meant();
  if (cells.length === 0) say(`${words}: choose a unit on the wall first`);
  return cells;
}

export async function shuffle() {
  now.running = "shuffle";
  if (await ask({ do: "shuffle" })) say("Shuffling");
}

export async function shuffleChosen() {
  const cells = chosenOr("Shuffle these");
  if (cells.length === 0) return;
  if (cells.length < 2) return say("Choose an area of two units or more");
  if (await ask({ do: "shuffle", cells })) say(`Shuffling ${count(cells.length, "unit")}`);
}

export function stop() { return ask({ do: "stop" }); }

export async function swap(one, other) {
  wall.swapping = -1;
  if (await ask({ do: "swap", one, other })) say(`Swapped: ${describe(other)}`);
}

export function startSwap() {
  const cells = chosenOr("Swap");
  if (cells.length === 0) return;
  wall.swapping = cells[0];
  choiceChanged();
  say("Now choose the unit to swap it with");
}

export function swapWith(cell) {
  const one = wall.swapping;
  wall.swapping = -1;
  choiceChanged();
  if (one !== cell) swap(one, cell);
}

const all = (cells, marked) => cells.every((cell) => marked.includes(cell));

export async function pin() {
  const cells = chosenOr("Pin");
  if (cells.length === 0) return;
  const on = !all(cells, now.view.pinned);
  if (await ask({ do: "pin", cells, on })) say(on ? `${count(cells.length, "unit")} pinned` : "Pin taken out");
}

export async function sewn() {
  const cells = chosenOr("Sewn");
  if (cells.length === 0) return;
  const on = !all(cells, now.view.sewn);
  if (await ask({ do: "sewn", cells, on })) say(on ? `${count(cells.length, "unit")} marked as sewn` : "Not sewn yet");
}

export async function turn() {
  const cells = chosenOr("Turn");
  if (cells.length > 0 && await ask({ do: "turn", cells, quarters: 1 })) say(`${count(cells.length, "unit")} turned`);
}

export function startReplace() {
  if (chosenOr("Replace").length > 0) document.querySelector("#unit select")?.focus();
}

export function nextLook() {
  const at = looks.findIndex(([value]) => value === wall.look);
  look(looks[(at + 1) % looks.length][0]);
}

function look(value) {
  setLook(value);
  for (const radio of document.querySelectorAll("input[name=look]")) radio.checked = radio.value === value;
  say(`Looking at ${value}`);
}

/** Which patch of one unit, which fabric instead. */
function replacing(cell) {
  const shapes = now.top.ofCell.get(cell) ?? [];
  const patches = shapes.map((i) => ({ patch: now.top.shapes[i][2], fabric: now.view.fabrics[now.top.fabrics[i]] }));
  const which = patches.length > 1
    ? select(patches.map(({ patch, fabric }) => [String(patch), `${now.view.roles[patch] ?? "patch"} ${patch + 1}: ${fabric.name}`]),
      String(patches[0].patch), { "aria-label": "Patch of the unit", data: { keep: "which" } })
    : null;
  const fabrics = select([["", "another fabric"], ...now.view.fabrics.map(({ id, name }) => [id, name])], "",
    { "aria-label": "Fabric to put there", data: { keep: "fabric" } });
  const patch = () => Number(which?.value ?? patches[0].patch);
  const here = async () => {
    if (!fabrics.value) return say("Choose the fabric to put there");
    if (await ask({ do: "replace", cell, patch: patch(), fabric: fabrics.value })) say(describe(cell));
  };
  const everywhere = async () => {
    if (!fabrics.value) return say("Choose the fabric to put there");
    const from = patches.find((one) => one.patch === patch()).fabric.id;
    if (await ask({ do: "replace-all", from, to: fabrics.value })) say("Replaced everywhere");
  };
  return el("div", { className: "group" }, which, fabrics, button("Put here", here, { data: { keep: "here" } }),
    button("Put everywhere", everywhere, { data: { keep: "everywhere" } }));
}

function drawUnit() {
  const place = by("unit");
  if (!now.view?.top) return fill(place, el("p", { className: "note" }, "When there is a top on the wall, choose a unit of it to pin, swap, turn or replace it."));
  const cells = meant();
  const heading = wall.swapping >= 0 ? `Swap ${describe(wall.swapping)}: choose the other unit`
    : cells.length === 0 ? "No unit is chosen"
      : cells.length === 1 ? describe(cells[0]) : `${cells.length} units`;
  const none = cells.length === 0;
  const pinned = !none && all(cells, now.view.pinned);
  const done = !none && all(cells, now.view.sewn);
  const acts = el("div", { className: "group" },
    button(pinned ? "Take pin out" : "Pin", pin, { disabled: none, data: { keep: "pin" } }, "pin"),
    button(done ? "Not sewn yet" : "Sewn", sewn, { disabled: none, data: { keep: "sewn" } }, "needle"),
    button("Turn", turn, { disabled: none, data: { keep: "turn" } }, "turn"),
    button("Swap with…", startSwap, { disabled: cells.length !== 1, data: { keep: "swap" } }, "swap"),
    button("Shuffle only these", shuffleChosen, { disabled: cells.length < 2, data: { keep: "part" } }, "shuffle"));
  fill(place, el("p", { className: "mark" }, heading), acts, cells.length === 1 ? replacing(cells[0]) : null);
}

function drawTroubles() {
  const place = by("troubles");
  const troubles = [...(now.view?.refused ?? []), ...(now.view?.troubles ?? [])];
  place.hidden = troubles.length === 0;
  if (place.hidden) return place.replaceChildren();
  const ways = troubles.flatMap((trouble) => trouble.ways);
  const shown = troubles.slice(0, 8);
  fill(place, el("h2", {}, now.view.refused ? "This cannot be laid out as the plan says" : "The wall does not keep the plan"),
    el("ul", {}, ...shown.map(({ what, remedy }) => el("li", {}, remedy ? `${what}: ${remedy}` : what)),
      troubles.length > shown.length ? el("li", {}, `and ${troubles.length - shown.length} more`) : null),
    el("div", { className: "group" }, ...ways.map((way) => button(way.says, async () => {
      if (await ask(way.act) && way.act.do === "plan") shuffle();
    }, { data: { keep: way.says } }))));
}

let toldOfTrouble = false;
function drawHead() {
  const { view } = now;
  document.title = view ? `${view.name || "Quilt"} · design wall` : "Design wall";
  by("name").textContent = view?.name || "Design wall";
  by("undo").disabled = !view?.undo;
  by("redo").disabled = !view?.redo;
  by("undo").title = view?.undo ? `Undo: ${view.undo}` : "There is nothing to undo";
  by("redo").title = view?.redo ? `Redo: ${view.redo}` : "There is nothing to redo";
  by("stop").hidden = !now.running;
  const empty = by("empty");
  empty.hidden = Boolean(view?.top) || Boolean(now.top);
  if (view && !view.top)
    empty.textContent = view.fabrics.length === 0
      ? "An empty wall. Put photos of your fabrics on the shelf, say how large the top is, and shuffle."
      : "Nothing hangs here yet. Press Shuffle to lay the fabrics out.";
  by("marks").setAttribute("aria-label", view?.top
    ? `Design wall: ${view.plan.setting.columns} across, ${view.plan.setting.rows} down` : "Design wall, empty");
  const trouble = Boolean(view?.refused);
  if (trouble && !toldOfTrouble) say("No such layout: see what is wrong, below the wall");
  toldOfTrouble = trouble;
  if (view?.said) say(view.said);
}

export function begin() {
  by("undo").addEventListener("click", async () => {
    const step = now.view?.undo;
    if (step && await ask({ do: "undo" })) say(`Undone: ${step}`);
  });
  by("redo").addEventListener("click", async () => {
    const step = now.view?.redo;
    if (step && await ask({ do: "redo" })) say(`Done again: ${step}`);
  });
  by("shuffle").addEventListener("click", shuffle);
  by("stop").addEventListener("click", stop);
  by("nearer").addEventListener("click", () => zoom(1.3));
  by("farther").addEventListener("click", () => zoom(1 / 1.3));
  by("whole").addEventListener("click", fit);
  by("views").append(...choice("look", looks, "cloth", look));
  by("hand").append(...choice("dragging", [["units", "swaps units"], ["area", "chooses an area"], ["wall", "slides the wall"]], "units",
    (value) => { dragging.kind = value; requestMarks(); }));
  const dialog = by("key-list");
  dialog.append(el("h2", { id: "key-title" }, "Keys on the wall"),
    el("table", {}, el("tbody", {}, ...keyWords.map(([key, does]) => el("tr", {}, el("th", { scope: "row" }, el("kbd", {}, key)), el("td", {}, does))))),
    button("Close", () => dialog.close()));
  by("keys").addEventListener("click", () => dialog.showModal());
  onChoice(drawUnit);
  listen((what) => {
    if (what === "view") {
      drawHead();
      drawUnit();
      drawTroubles();
    }
    if (what === "running") by("stop").hidden = !now.running;
  });
}
