// The shelf: every fabric with its value, how many the plan asks for, how many hang on the wall, what is left.

import { by, button, count, el, fill, say, select } from "./words.js";
import { ask, listen, now, sendPhoto } from "./wire.js";
import { requestMarks, requestPaint, wall } from "./wall.js";
import { cloth } from "./cloth.js";

const shelf = by("shelf");
const open = new Set();

export async function putPhotos(files) {
  const photos = [...files];
  let done = 0;
  for (const file of photos) {
    say(`Measuring ${file.name} (${done + 1} of ${photos.length})`);
    try {
      await sendPhoto(file);
      done += 1;
    } catch (error) {
      say(`${file.name}: ${error.message}`);
      await new Promise((after) => { setTimeout(after, 1200); });
    }
  }
  if (done > 0) say(`${count(done, "photo")} on the shelf`);
}

/** A piece of the fabric, some 3 inches of it. */
function drawSwatch(canvas, fabric) {
  const pen = canvas.getContext("2d");
  const levels = cloth(fabric, now.view.cloth_side, () => { drawSwatch(canvas, fabric); requestPaint(); });
  if (levels) {
    const part = Math.min(1, 3.2 / now.view.cloth_side) * levels[0].width;
    pen.drawImage(levels[0], 0, 0, part, part, 0, 0, canvas.width, canvas.height);
  } else {
    pen.fillStyle = fabric.colour ?? "#888888";
    pen.fillRect(0, 0, canvas.width, canvas.height);
  }
}

const kinds = [["even", "as many as the others"], ["exact", "exactly"], ["at_least", "at least"], ["at_most", "at most"],
  ["stock", "what the stock gives"], ["none", "none"]];

function countOf(fabric) {
  const counts = now.view.plan.counts ?? {};
  const said = counts[fabric.id] ?? counts["*"] ?? "even";
  if (typeof said === "number") return said === 0 ? ["none", 0] : ["exact", said];
  if (typeof said === "string") return [said, fabric.used];
  return "at_least" in said ? ["at_least", said.at_least] : ["at_most", said.at_most];
}

function counting(fabric) {
  const [kind, number] = countOf(fabric);
  const amount = el("input", { type: "number", min: 0, max: 40000, value: number, className: "narrow",
    "aria-label": `How many of ${fabric.name}`, hidden: !["exact", "at_least", "at_most"].includes(kind), data: { keep: `${fabric.id} amount` } });
  const which = select(kinds, kind, { data: { keep: `${fabric.id} kind` } });
  const send = () => {
    const n = Math.max(0, Math.round(Number(amount.value) || 0));
    const value = { even: "even", stock: "stock", none: 0, exact: n, at_least: { at_least: n }, at_most: { at_most: n } }[which.value];
    ask({ do: "plan", set: { [`/counts/${fabric.id}`]: value } });
  };
  which.addEventListener("change", send);
  amount.addEventListener("change", send);
  return el("div", { className: "row" }, el("label", {}, "The plan takes", which), amount);
}

function missing(fabric) {
  const number = el("input", { type: "number", min: 1, max: Math.max(1, fabric.used), value: 1, className: "narrow", data: { keep: `${fabric.id} short` } });
  return el("div", { className: "row" }, el("label", {}, "Short by", number),
    button("Mend", () => ask({ do: "mend", short: { [fabric.id]: Math.round(Number(number.value)) } }),
      { disabled: fabric.used === 0, "aria-label": `Mend the top: ${fabric.name} is short`, data: { keep: `${fabric.id} mend` } }));
}

function details(fabric, number) {
  const set = (key, value) => ask({ do: "fabric", id: fabric.id, set: { [key]: value } });
  const name = el("input", { value: fabric.name, maxLength: 80, data: { keep: `${fabric.id} name` }, on: { change: () => set("name", name.value) } });
  const value = select([["", `as measured${fabric.value_said ? "" : ` (${fabric.value ?? "?"})`}`], ["light", "light"], ["medium", "medium"], ["dark", "dark"]],
    fabric.value_said ? fabric.value : "", { data: { keep: `${fabric.id} value` }, on: { change: (event) => set("value", event.target.value || null) } });
  const width = el("input", { value: fabric.width ?? "", className: "narrow", data: { keep: `${fabric.id} width` },
    on: { change: () => set("photo_width", width.value) } });
  const others = select([["", "another fabric"], ...now.view.fabrics.filter((one) => one !== fabric).map((one) => [one.id, one.name])], "",
    { "aria-label": `Fabric to put for ${fabric.name}`, data: { keep: `${fabric.id} other` } });
  return el("div", { className: "more" },
    counting(fabric), missing(fabric),
    el("div", { className: "row" }, others, button("Put for it everywhere", async () => {
      if (!others.value) return say("Choose the fabric to put for it");
      if (await ask({ do: "replace-all", from: fabric.id, to: others.value })) say("Replaced everywhere");
    }, { disabled: fabric.used === 0, data: { keep: `${fabric.id} everywhere` } })),
    el("label", {}, "Called", name), el("label", {}, "Value", value),
    fabric.cloth ? el("label", {}, "The photo shows, left to right", width) : null,
    el("label", {}, el("input", { type: "checkbox", checked: fabric.one_way, data: { keep: `${fabric.id} way` },
      on: { change: (event) => set("one_way", event.target.checked) } }), "One-way print"),
    el("div", { className: "row" },
      el("label", {}, el("input", { type: "checkbox", checked: wall.fabric === number, data: { keep: `${fabric.id} ring` },
        on: { change: (event) => { wall.fabric = event.target.checked ? number : -1; requestMarks(); } } }), "Show where it lies"),
      button("Take off the shelf", () => ask({ do: "drop-fabric", id: fabric.id }), { data: { keep: `${fabric.id} drop` } })));
}

function item(fabric, number) {
  const swatch = el("canvas", { width: 96, height: 96, "aria-hidden": "true" });
  drawSwatch(swatch, fabric);
  const left = fabric.left === undefined ? "" : fabric.left < 0 ? `, ${-fabric.left} too many for the stock` : `, ${fabric.left} left`;
  const [kind, asked] = countOf(fabric);
  const want = kind === "exact" ? ` of ${asked}` : kind === "at_least" ? `, at least ${asked}` : kind === "at_most" ? `, at most ${asked}` : "";
  const line = el("details", { open: open.has(fabric.id), on: { toggle: () => {
    if (line.open) open.add(fabric.id); else open.delete(fabric.id);
    if (line.open && line.children.length === 1) line.append(details(fabric, number));
  } } },
  el("summary", { data: { keep: `${fabric.id} line` } }, swatch,
    el("span", {}, el("span", { className: "mark" }, fabric.letter ? `${fabric.letter}  ` : "", fabric.name),
      el("br"), el("span", { className: "note" }, `${fabric.value ?? "not measured"}, lightness ${Math.round(fabric.lightness ?? 0)}`)),
    el("span", { className: "number" }, `${fabric.used}${want}`, el("br"), el("span", { className: "note" }, `used${left}`))));
  if (open.has(fabric.id)) line.append(details(fabric, number));
  return el("li", {}, line);
}

function draw() {
  const { view } = now;
  const order = view.fabrics.map((fabric, number) => [fabric, number]).sort(([a], [b]) => (a.lightness ?? 0) - (b.lightness ?? 0));
  const chooser = el("input", { type: "file", multiple: true, accept: "image/*,.heic,.heif,.avif", className: "unseen", tabIndex: -1, "aria-label": "Photos of fabrics",
    on: { change: () => putPhotos(chooser.files) } });
  fill(shelf, el("h2", {}, `Shelf: ${count(view.fabrics.length, "fabric")}`),
    el("div", { className: "row" }, chooser, button("Put photos here", () => chooser.click(), { data: { keep: "photos" } }, "photo")),
    el("p", { className: "note" }, view.fabrics.length === 0
      ? "One photo for each fabric, flat and filling the picture, in even daylight. Drop them anywhere on this page."
      : "Darkest first. Open a fabric to say how many, to mend a shortage, or to replace it."),
    el("ul", { className: "fabrics" }, ...order.map(([fabric, number]) => item(fabric, number))));
}

export function begin() {
  listen((what) => { if (what === "view") draw(); });
  window.addEventListener("dragover", (event) => {
    event.preventDefault();
    document.body.classList.add("dropping");
  });
  window.addEventListener("dragleave", (event) => { if (!event.relatedTarget) document.body.classList.remove("dropping"); });
  window.addEventListener("drop", (event) => {
    event.preventDefault();
    document.body.classList.remove("dropping");
    putPhotos(event.dataTransfer.files);
  });
}
