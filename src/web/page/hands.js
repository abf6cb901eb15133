// Mouse, finger and keys on the wall.

import { by, say } from "./words.js";
import { ask, now } from "./wire.js";
import { camera, canvasPoint, cellAt, cellsIn, choiceChanged, describe, fit, goTo, requestMarks, slide, wall, zoom } from "./wall.js";
import * as acts from "./tools.js";

const marks = by("marks");
const fingers = new Map();
let held = null; // What one finger or the mouse does: {kind, cell, x, y, moved}.
let pinch = null;

export const dragging = { kind: "units" }; // "units", "area", "wall"

const far = () => 6 * (window.devicePixelRatio || 1);

export function choose(cells, add = false) {
  if (!add) wall.chosen.clear();
  for (const cell of cells) wall.chosen.add(cell);
  choiceChanged();
}

function tap(cell, add) {
  if (cell < 0) {
    wall.chosen.clear();
    wall.swapping = -1;
    choiceChanged();
    return;
  }
  wall.cursor = cell;
  if (wall.swapping >= 0) return acts.swapWith(cell);
  if (add && wall.chosen.has(cell)) {
    wall.chosen.delete(cell);
    choiceChanged();
  } else choose([cell], add);
  say(describe(cell));
}

function pinchOf() {
  const [a, b] = [...fingers.values()];
  return { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, apart: Math.hypot(a[0] - b[0], a[1] - b[1]) };
}

marks.addEventListener("pointerdown", (event) => {
  if (!now.top) return;
  marks.focus({ preventScroll: true });
  marks.setPointerCapture(event.pointerId);
  const [x, y] = canvasPoint(event);
  fingers.set(event.pointerId, [x, y]);
  if (fingers.size === 2) {
    held = null;
    wall.drag = null;
    wall.band = null;
    pinch = pinchOf();
    return;
  }
  const cell = cellAt(x, y);
  const slides = dragging.kind === "wall" || event.button === 1;
  const kind = slides ? "wall" : dragging.kind === "area" ? "area" : cell >= 0 && !now.running ? "unit" : "wall";
  held = { kind, cell, x, y, lastX: x, lastY: y, moved: false, add: event.shiftKey || event.ctrlKey || event.metaKey };
});

marks.addEventListener("pointermove", (event) => {
  if (!fingers.has(event.pointerId)) return;
  const [x, y] = canvasPoint(event);
  fingers.set(event.pointerId, [x, y]);
  if (fingers.size === 2 && pinch) {
    const next = pinchOf();
    zoom(next.apart / Math.max(1, pinch.apart), next.x, next.y);
    slide(next.x - pinch.x, next.y - pinch.y);
    pinch = next;
    return;
  }
  if (!held) return;
  if (!held.moved && Math.hypot(x - held.x, y - held.y) < far()) return;
  held.moved = true;
  if (held.kind === "wall") slide(x - held.lastX, y - held.lastY);
  if (held.kind === "unit") wall.drag = { ...(wall.drag ?? { cell: held.cell }), x, y };
  if (held.kind === "area") wall.band = [held.x, held.y, x, y];
  held.lastX = x;
  held.lastY = y;
  requestMarks();
});

function letGo(event, cancelled) {
  if (!fingers.delete(event.pointerId)) return;
  if (fingers.size < 2) pinch = null;
  const was = held;
  held = null;
  const { drag, band } = wall;
  wall.drag = null;
  wall.band = null;
  requestMarks();
  if (!was || cancelled) return;
  const [x, y] = canvasPoint(event);
  if (!was.moved) tap(was.cell, was.add);
  else if (drag) {
    const to = cellAt(x, y);
    if (to >= 0 && to !== was.cell) acts.swap(was.cell, to);
  } else if (band) {
    choose(cellsIn(...band), was.add);
    say(`${wall.chosen.size} units chosen`);
  }
}
marks.addEventListener("pointerup", (event) => letGo(event, false));
marks.addEventListener("pointercancel", (event) => letGo(event, true));

marks.addEventListener("wheel", (event) => {
  event.preventDefault();
  const [x, y] = canvasPoint(event);
  zoom(Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0016)), x, y);
}, { passive: false });

function startCell() {
  if (wall.cursor >= 0) return wall.cursor;
  const [first] = wall.chosen;
  return first ?? now.top.cells[0][0];
}

let anchor = -1; // Where an area chosen with Shift began.

function step(down, right, area) {
  if (!now.top) return;
  if (wall.cursor < 0) return goTo(startCell());
  const at = now.top.cellAt.get(wall.cursor);
  let next;
  // Rows may be shorter or hold gaps: the nearest unit on the way is taken.
  for (let far_ = 1; next === undefined && far_ < 3; far_ += 1)
    for (const aside of [0, -1, 1]) {
      const row = at[1] + down * far_ + (down ? 0 : 0);
      const column = at[2] + right * far_ + (down ? aside : 0);
      next ??= now.top.atPlace.get(`${row},${column}`);
      if (!down) break;
    }
  if (next === undefined) return say("The edge of the top");
  if (area) {
    if (anchor < 0) anchor = wall.cursor;
    const a = now.top.cellAt.get(anchor);
    const b = now.top.cellAt.get(next);
    wall.chosen = new Set(now.top.cells.filter((cell) =>
      cell[1] >= Math.min(a[1], b[1]) && cell[1] <= Math.max(a[1], b[1]) &&
      cell[2] >= Math.min(a[2], b[2]) && cell[2] <= Math.max(a[2], b[2])).map((cell) => cell[0]));
    goTo(next, false);
    say(`${describe(next)}; ${wall.chosen.size} units chosen`);
  } else {
    anchor = -1;
    goTo(next);
  }
}

/** What the unit keys work on: the chosen units, or the one under the cursor. */
export function meant() {
  if (wall.chosen.size > 0) return [...wall.chosen];
  return wall.cursor >= 0 ? [wall.cursor] : [];
}

const onWall = {
  ArrowUp: (event) => step(-1, 0, event.shiftKey),
  ArrowDown: (event) => step(1, 0, event.shiftKey),
  ArrowLeft: (event) => step(0, -1, event.shiftKey),
  ArrowRight: (event) => step(0, 1, event.shiftKey),
  Home: () => now.top && goTo(now.top.cells[0][0]),
  End: () => now.top && goTo(now.top.cells.at(-1)[0]),
  Enter: () => now.top && tap(startCell(), false),
  " ": () => now.top && tap(startCell(), true),
  Escape: () => {
    if (now.running) return acts.stop();
    wall.chosen.clear();
    wall.swapping = -1;
    wall.fabric = -1;
    choiceChanged();
    say("Nothing is chosen");
  },
  s: () => acts.shuffle(),
  a: () => acts.shuffleChosen(),
  p: () => acts.pin(),
  w: () => acts.sewn(),
  t: () => acts.turn(),
  x: () => acts.startSwap(),
  r: () => acts.startReplace(),
  u: () => ask({ do: "undo" }),
  y: () => ask({ do: "redo" }),
  v: () => acts.nextLook(),
  "+": () => zoom(1.25),
  "=": () => zoom(1.25),
  "-": () => zoom(0.8),
  0: () => fit(),
};

// Letters work only while the wall has the focus, so that nobody's dictation or typing sets anything off.
marks.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const act = onWall[event.key] ?? onWall[event.key.toLowerCase()];
  if (!act) return;
  event.preventDefault();
  act(event);
});

window.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  if (event.target.matches?.("input, textarea, select")) return;
  event.preventDefault();
  ask({ do: event.shiftKey ? "redo" : "undo" });
});

export const keyWords = [
  ["Arrows", "from unit to unit"], ["Shift and arrows", "choose an area"], ["Enter", "choose the unit"],
  ["Space", "add the unit to the chosen, or take it out"], ["S", "shuffle"], ["A", "shuffle the chosen area only"], ["Escape", "stop a shuffle; choose nothing"],
  ["X", "swap: then go to the other unit and press Enter"], ["R", "replace a fabric"], ["P", "pin, or take the pin out"],
  ["W", "sewn, or not yet"], ["T", "a quarter turn"], ["U, or Ctrl and Z", "undo"], ["Y, or Ctrl, Shift and Z", "redo"],
  ["V", "the next way to look"], ["+ and −", "nearer and farther"], ["0", "the whole top"], ["Home, End", "the first and the last unit"],
];
export { camera };
