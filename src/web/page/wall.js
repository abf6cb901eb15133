// The wall: where one stands before it, what is painted, which units are chosen.

import { by, say } from "./words.js";
import { now, listen } from "./wire.js";
import { Painter } from "./paint.js";

const base = by("base");
const marks = by("marks");
const stage = by("stage");
const basePen = base.getContext("2d");
const pen = marks.getContext("2d");
const sheet = new OffscreenCanvas(1, 1);
const sheetPen = sheet.getContext("2d");

/** Where one stands: pixels to the inch, and where the top's corner is, in canvas pixels. */
export const camera = { scale: 8, x: 0, y: 0, fitted: true };
export const wall = {
  look: "cloth",
  chosen: new Set(),
  cursor: -1,
  swapping: -1, // The unit that looks for another place.
  drag: null, // {cell, x, y}: a unit in the hand.
  band: null, // [x0, y0, x1, y1]: an area being drawn.
  fabric: -1, // Shown by a ring wherever it lies.
};

const told = new Set();
/** `changed()` is called when the chosen units or the cursor changed. */
export function onChoice(changed) { told.add(changed); }
export function choiceChanged() {
  for (const changed of told) changed();
  requestMarks();
}

let painted = null; // What the sheet shows: {top, scale, x, y, look}.
let stale = true;
let waiting = 0;
let settle = 0;

const ratio = () => window.devicePixelRatio || 1;

function resize() {
  const box = stage.getBoundingClientRect();
  const width = Math.max(1, Math.round(box.width * ratio()));
  const height = Math.max(1, Math.round(box.height * ratio()));
  if (base.width === width && base.height === height) return;
  for (const canvas of [base, marks, sheet]) {
    canvas.width = width;
    canvas.height = height;
  }
  if (camera.fitted) fit();
  stale = true;
  requestPaint();
}

/** The whole top, with some wall around it. */
export function fit() {
  camera.fitted = true;
  if (!now.top) return;
  const room = 0.94;
  camera.scale = Math.min((base.width * room) / now.top.width, (base.height * room) / now.top.height);
  camera.x = (base.width - now.top.width * camera.scale) / 2;
  camera.y = (base.height - now.top.height * camera.scale) / 2;
  moved();
}

export function zoom(times, atX = base.width / 2, atY = base.height / 2) {
  const wanted = Math.min(220 * ratio(), Math.max(0.3, camera.scale * times));
  const by_ = wanted / camera.scale;
  camera.x = atX - (atX - camera.x) * by_;
  camera.y = atY - (atY - camera.y) * by_;
  camera.scale = wanted;
  camera.fitted = false;
  moved();
}

export function slide(dx, dy) {
  camera.x += dx;
  camera.y += dy;
  camera.fitted = false;
  moved();
}

/** A large top is painted anew once the hand rests; till then its picture is moved. */
function moved() {
  clearTimeout(settle);
  const many = now.top && now.top.shapes.length > 900;
  if (many) settle = setTimeout(() => { stale = true; requestPaint(); }, 90);
  else stale = true;
  requestPaint();
}

export function requestPaint() {
  if (!waiting) waiting = requestAnimationFrame(frame);
}
let marksWaiting = 0;
export function requestMarks() {
  if (!marksWaiting && !waiting) marksWaiting = requestAnimationFrame(() => { marksWaiting = 0; drawMarks(); });
}

const cameCloth = () => {
  painted = null;
  stale = true;
  requestPaint();
};
const options = () => ({ look: wall.look, side: now.view.cloth_side, came: cameCloth });

function paintSheet() {
  stale = false;
  const { scale, x, y } = camera;
  const same = painted && painted.look === wall.look && painted.number === now.top.number &&
    painted.scale === scale && painted.x === x && painted.y === y && painted.fabricList === now.view.fabrics.length;
  const painter = new Painter(sheetPen, now.top, now.view.fabrics, options());
  if (same && wall.look !== "squint") {
    now.top.fabrics.forEach((fabric, i) => { if (fabric !== painted.fabrics[i]) painter.shape(i, scale, x, y); });
  } else {
    sheetPen.clearRect(0, 0, sheet.width, sheet.height);
    painter.all(scale, x, y, sheet.width, sheet.height);
  }
  painted = { look: wall.look, number: now.top.number, scale, x, y, fabrics: now.top.fabrics, fabricList: now.view.fabrics.length };
}

function frame() {
  waiting = 0;
  basePen.clearRect(0, 0, base.width, base.height);
  if (now.top && now.view) {
    if (stale || !painted) paintSheet();
    const by_ = camera.scale / painted.scale;
    basePen.save();
    if (wall.look === "squint") basePen.filter = `blur(${Math.max(1, camera.scale * now.top.unit * 0.3)}px)`;
    basePen.imageSmoothingEnabled = by_ !== 1;
    basePen.drawImage(sheet, camera.x - painted.x * by_, camera.y - painted.y * by_, sheet.width * by_, sheet.height * by_);
    basePen.restore();
  }
  drawMarks();
  if (wall.painted) wall.painted();
}

const toX = (inches) => inches * camera.scale + camera.x;
const toY = (inches) => inches * camera.scale + camera.y;

function outline(cell, grow = 0) {
  const at = now.top.cellAt.get(cell);
  if (!at) return false;
  const half = now.top.unit / 2;
  const x = toX(at[3]);
  const y = toY(at[4]);
  pen.beginPath();
  if (now.top.on_point) {
    const d = half * Math.SQRT2 * camera.scale + grow * Math.SQRT2;
    pen.moveTo(x, y - d);
    pen.lineTo(x + d, y);
    pen.lineTo(x, y + d);
    pen.lineTo(x - d, y);
    pen.closePath();
  } else {
    const d = half * camera.scale + grow;
    pen.rect(x - d, y - d, 2 * d, 2 * d);
  }
  return true;
}

function ring(cell, width, colour, dash = [], grow = 0) {
  if (!outline(cell, grow)) return;
  pen.setLineDash([]);
  pen.lineWidth = (width + 2.5) * ratio();
  pen.strokeStyle = "#ffffff";
  pen.stroke();
  pen.setLineDash(dash.map((length) => length * ratio()));
  pen.lineWidth = width * ratio();
  pen.strokeStyle = colour;
  pen.stroke();
  pen.setLineDash([]);
}

function drawPin(cell) {
  const at = now.top.cellAt.get(cell);
  const size = Math.max(3 * ratio(), Math.min(now.top.unit * camera.scale * 0.16, 9 * ratio()));
  const away = (now.top.unit * camera.scale) / 2 - size * 1.5;
  const x = toX(at[3]) + (now.top.on_point ? 0 : away);
  const y = toY(at[4]) - away;
  pen.lineWidth = size * 0.5;
  pen.strokeStyle = "#ffffff";
  pen.fillStyle = "#20242a";
  pen.beginPath();
  pen.moveTo(x, y);
  pen.lineTo(x - size * 1.3, y + size * 1.9);
  pen.stroke();
  pen.strokeStyle = "#20242a";
  pen.lineWidth = size * 0.25;
  pen.stroke();
  pen.beginPath();
  pen.arc(x, y, size, 0, 7);
  pen.fill();
  pen.strokeStyle = "#ffffff";
  pen.lineWidth = size * 0.35;
  pen.stroke();
}

function drawSewn(cell) {
  if (!outline(cell, -3 * ratio())) return;
  pen.lineWidth = 3 * ratio();
  pen.strokeStyle = "#20242a";
  pen.stroke();
  pen.setLineDash([4 * ratio(), 3 * ratio()]);
  pen.lineWidth = 1.6 * ratio();
  pen.strokeStyle = "#ffffff";
  pen.stroke();
  pen.setLineDash([]);
}

function drawConflicts() {
  const shown = now.view.conflicts.slice(0, 400);
  for (const [a, b] of shown) {
    const one = now.top.cellAt.get(a);
    const other = now.top.cellAt.get(b);
    if (!one || !other) continue;
    for (const [width, colour] of [[6, "#ffffff"], [3, "#a3241c"]]) {
      pen.lineWidth = width * ratio();
      pen.strokeStyle = colour;
      pen.beginPath();
      pen.moveTo(toX(one[3]), toY(one[4]));
      pen.lineTo(toX(other[3]), toY(other[4]));
      pen.stroke();
    }
    for (const cell of [one, other]) {
      pen.fillStyle = "#a3241c";
      pen.strokeStyle = "#ffffff";
      pen.lineWidth = 2 * ratio();
      pen.beginPath();
      pen.moveTo(toX(cell[3]), toY(cell[4]) - 7 * ratio());
      pen.lineTo(toX(cell[3]) + 7 * ratio(), toY(cell[4]) + 6 * ratio());
      pen.lineTo(toX(cell[3]) - 7 * ratio(), toY(cell[4]) + 6 * ratio());
      pen.closePath();
      pen.stroke();
      pen.fill();
    }
  }
}

function drawMarks() {
  pen.clearRect(0, 0, marks.width, marks.height);
  if (!now.top || !now.view?.top) return;
  if (!now.running) {
    for (const cell of now.view.sewn) drawSewn(cell);
    for (const cell of now.view.pinned) drawPin(cell);
    for (const cell of now.view.touched) ring(cell, 3, "#7a3d00", [8, 4], -4);
    drawConflicts();
  }
  if (wall.fabric >= 0)
    for (const [cell, shapes] of now.top.ofCell)
      if (shapes.some((i) => now.top.fabrics[i] === wall.fabric)) ring(cell, 2, "#20242a", [3, 3], -2);
  for (const cell of wall.chosen) ring(cell, 3, "#0d5666");
  if (wall.swapping >= 0) ring(wall.swapping, 4, "#0d5666", [6, 4]);
  if (document.activeElement === marks && wall.cursor >= 0) ring(wall.cursor, 2, "#000000", [2, 3], 3);
  if (wall.band) {
    const [x0, y0, x1, y1] = wall.band;
    pen.lineWidth = 2 * ratio();
    pen.strokeStyle = "#0d5666";
    pen.fillStyle = "#0d566633";
    pen.fillRect(x0, y0, x1 - x0, y1 - y0);
    pen.strokeRect(x0, y0, x1 - x0, y1 - y0);
  }
  if (wall.drag) drawHeld();
}

/** The unit in the hand, and where it would go. */
function drawHeld() {
  const { cell, x, y } = wall.drag;
  const over = cellAt(x, y);
  if (over >= 0 && over !== cell) ring(over, 4, "#0d5666", [6, 4]);
  const at = now.top.cellAt.get(cell);
  const painter = wall.drag.painter ??= new Painter(pen, now.top, now.view.fabrics, options());
  pen.save();
  pen.globalAlpha = 0.92;
  pen.shadowColor = "#0009";
  pen.shadowBlur = 10 * ratio();
  const shiftX = x - at[3] * camera.scale;
  const shiftY = y - at[4] * camera.scale;
  for (const i of now.top.ofCell.get(cell)) painter.shape(i, camera.scale, shiftX, shiftY);
  pen.restore();
}

/** The unit under a point of the canvas; -1 beside the units. */
export function cellAt(x, y) {
  if (!now.top) return -1;
  const ix = (x - camera.x) / camera.scale;
  const iy = (y - camera.y) / camera.scale;
  const half = now.top.unit / 2;
  for (const [cell, , , cx, cy] of now.top.cells) {
    const dx = Math.abs(ix - cx);
    const dy = Math.abs(iy - cy);
    if (now.top.on_point ? dx + dy <= half * Math.SQRT2 : dx <= half && dy <= half) return cell;
  }
  return -1;
}

/** Units whose middle lies in a box of canvas pixels. */
export function cellsIn(x0, y0, x1, y1) {
  const [left, right] = [Math.min(x0, x1), Math.max(x0, x1)];
  const [top, bottom] = [Math.min(y0, y1), Math.max(y0, y1)];
  return now.top.cells.filter(([, , , cx, cy]) => {
    const x = toX(cx);
    const y = toY(cy);
    return x >= left && x <= right && y >= top && y <= bottom;
  }).map(([cell]) => cell);
}

export function canvasPoint(event) {
  const box = marks.getBoundingClientRect();
  return [(event.clientX - box.left) * ratio(), (event.clientY - box.top) * ratio()];
}

/** "row 2, column 3: Plum dots, pinned" */
export function describe(cell) {
  const at = now.top?.cellAt.get(cell);
  if (!at) return "";
  const names = [...new Set((now.top.ofCell.get(cell) ?? []).map((i) => now.view.fabrics[now.top.fabrics[i]]?.name))];
  const more = [];
  if (now.view.pinned?.includes(cell)) more.push("pinned");
  if (now.view.sewn?.includes(cell)) more.push("sewn");
  if (now.view.conflicts?.some((pair) => pair.includes(cell))) more.push("breaks a rule");
  return `row ${at[1] + 1}, column ${at[2] + 1}: ${[names.join(" and "), ...more].join(", ")}`;
}

/** Moves the cursor and keeps it in sight. */
export function goTo(cell, spoken = true) {
  wall.cursor = cell;
  const at = now.top.cellAt.get(cell);
  const margin = now.top.unit * camera.scale;
  const x = toX(at[3]);
  const y = toY(at[4]);
  const dx = x < margin ? margin - x : x > base.width - margin ? base.width - margin - x : 0;
  const dy = y < margin ? margin - y : y > base.height - margin ? base.height - margin - y : 0;
  if ((dx || dy) && !camera.fitted) slide(dx, dy);
  if (spoken) say(describe(cell));
  choiceChanged();
}

export function setLook(look) {
  wall.look = look;
  painted = null;
  stale = true;
  requestPaint();
}

let shapeOfTop = "";
listen((what) => {
  if (what !== "top" && what !== "view") return;
  const size = now.top ? `${now.top.width} ${now.top.height}` : "";
  if (size !== shapeOfTop) {
    shapeOfTop = size;
    painted = null;
    if (now.top) fit();
  }
  if (now.top && wall.cursor >= 0 && !now.top.cellAt.has(wall.cursor)) wall.cursor = -1;
  if (now.top) for (const cell of wall.chosen) if (!now.top.cellAt.has(cell)) wall.chosen.delete(cell);
  stale = true;
  requestPaint();
});

new ResizeObserver(resize).observe(stage);
marks.addEventListener("focus", requestMarks);
marks.addEventListener("blur", requestMarks);
