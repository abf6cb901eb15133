// The wire to the program: what is, what is asked for, what is news. All of the page's state is here.

import { say } from "./words.js";

const base = location.pathname.endsWith("/") ? location.pathname : `${location.pathname}/`;
const geometries = new Map();
const listeners = new Set();

/** What the page knows. `top` is what hangs on the wall now: {shapes, cells, fabrics, ...}. */
export const now = { view: null, top: null, lists: null, running: "", round: 0, ready: false };

export const address = (name, words = {}) => {
  const query = new URLSearchParams(words).toString();
  return base + name + (query ? `?${query}` : "");
};

/** `changed(what)` is called with "view", "top", "lists", "running" after each of them changed. */
export function listen(changed) { listeners.add(changed); }
function tell(what) { for (const changed of listeners) changed(what); }

class Refused extends Error {
  constructor(problems) {
    super(problems.map(({ what, remedy }) => (remedy ? `${what}: ${remedy}` : what)).join(". "));
    this.problems = problems;
  }
}

async function answer(response) {
  const json = await response.json().catch(() => ({ problems: [{ what: "the program gave no answer", remedy: "" }] }));
  if (!response.ok) throw new Refused(json.problems ?? [{ what: `the program answered ${response.status}`, remedy: "" }]);
  return json;
}

export async function fetchJson(name, words) { return answer(await fetch(address(name, words))); }

/** The shapes of a number, with what is worked out from them once. */
async function geometry(number) {
  if (!geometries.has(number)) {
    const shapes = await fetchJson("geometry", { number });
    shapes.number = number;
    shapes.cellAt = new Map(shapes.cells.map((cell) => [cell[0], cell]));
    shapes.ofCell = new Map();
    shapes.shapes.forEach((shape, i) => {
      if (shape[0] !== 0) return;
      if (!shapes.ofCell.has(shape[1])) shapes.ofCell.set(shape[1], []);
      shapes.ofCell.get(shape[1]).push(i);
    });
    shapes.atPlace = new Map(shapes.cells.map((cell) => [`${cell[1]},${cell[2]}`, cell[0]]));
    if (geometries.size > 40) geometries.delete(geometries.keys().next().value);
    geometries.set(number, shapes);
  }
  return geometries.get(number);
}

export async function topOf(json) {
  if (!json) return null;
  return { ...(await geometry(json.geometry)), fabrics: json.fabrics };
}

let latest = 0;
async function take(view) {
  if (view.revision < latest) return;
  latest = view.revision;
  const top = await topOf(view.top);
  if (view.revision < latest) return;
  now.view = view;
  now.top = top;
  now.running = view.running;
  now.ready = true;
  tell("view");
  tell("top");
}

export async function refresh() { await take(await fetchJson("state")); }

let queue = Promise.resolve();
/** Asks for an action; actions go out one after the other. True when it was done. */
export function ask(action) {
  const sent = queue.then(async () => {
    try {
      const response = await fetch(address("do"), { method: "POST", body: JSON.stringify(action) });
      await take(await answer(response));
      return true;
    } catch (error) {
      say(error instanceof Refused ? error.message : "The program does not answer. Is it still running?");
      if (now.ready) tell("view");
      return false;
    }
  });
  queue = sent;
  return sent;
}

export async function sendPhoto(file) {
  const response = await fetch(address("photo", { name: file.name }), { method: "POST", body: file });
  await take(await answer(response));
}

async function fetchLists() {
  now.lists = await fetchJson("lists");
  tell("lists");
}

/** Opens the stream of news; it mends itself when it breaks. */
export function open() {
  const news = new EventSource(address("events"));
  let failed = false;
  news.addEventListener("open", () => {
    if (failed) say("The program answers again.");
    failed = false;
    refresh().then(fetchLists).catch(() => {});
  });
  news.addEventListener("error", () => {
    if (!failed) say("The program does not answer. Is it still running?");
    failed = true;
  });
  news.addEventListener("state", ({ data }) => {
    if (JSON.parse(data).revision > latest) refresh().catch(() => {});
    now.lists = null;
    tell("lists");
  });
  news.addEventListener("lists", () => fetchLists().catch(() => {}));
  news.addEventListener("shown", async ({ data }) => {
    const json = JSON.parse(data);
    const shown = await topOf(json).catch(() => null);
    if (!shown || !now.running || json.round < now.round) return;
    now.round = json.round;
    now.top = shown;
    tell("top");
  });
  news.addEventListener("progress", ({ data }) => {
    now.progress = JSON.parse(data);
    tell("running");
  });
  news.addEventListener("done", () => {
    now.running = "";
    now.progress = null;
    tell("running");
    refresh().catch(() => {});
  });
  news.addEventListener("exported", ({ data }) => {
    now.exported = JSON.parse(data);
    tell("exported");
  });
}
