// Beside the wall: what to buy and cut, what was kept, what is taken home.

import { by, button, count, el, fill, say } from "./words.js";
import { address, ask, listen, now, topOf } from "./wire.js";
import { thumbnail } from "./paint.js";

function table(caption, heads, rows) {
  return el("table", {}, el("caption", { className: "unseen" }, caption),
    el("thead", {}, el("tr", {}, ...heads.map((head) => el("th", { scope: "col" }, head)))),
    el("tbody", {}, ...rows.map((row) => el("tr", {}, ...row.map((cell, i) => (i === 0 ? el("th", { scope: "row" }, cell) : el("td", {}, cell)))))));
}

function drawCloth() {
  const place = by("cloth");
  const { lists, view } = now;
  if (!view?.top) return fill(place, el("h2", {}, "Cloth"), el("p", { className: "note" }, "When a top is on the wall, what it takes stands here."));
  const used = [...view.fabrics].filter(({ used: n, share }) => n > 0 || share > 0).sort((a, b) => b.share - a.share);
  const shown = table(`What the wall shows, in ${view.counted}`, ["Fabric", view.counted === "pieces" ? "Pieces" : "Patches", "Share", "Stock"],
    used.map((fabric) => [fabric.name, String(fabric.used), `${(100 * fabric.share).toFixed(1)} %`,
      fabric.left === undefined ? "not said" : fabric.left < 0 ? `${-fabric.left} too few` : `${fabric.left} left`]));
  const more = !lists ? [el("p", { className: "note" }, "Working out cutting and yardage…")]
    : lists.fault ? [el("p", {}, lists.fault)]
      : [el("h3", {}, "To buy"),
        el("p", {}, `${lists.total} of cloth ${lists.cloth_width} wide in all, binding and backing included${lists.cost ? `: ${lists.cost}` : ""}. Batting ${lists.batting}.`),
        table("To buy", ["Of", "Buy", "From stock"], lists.buying.map((line) => [line.what, line.buy, line.stock])),
        el("h3", {}, "To cut"),
        table("To cut", ["Fabric", "Piece", "Size", "Cut"], lists.cutting.map((row) => [row.fabric, row.piece, row.size, String(row.cut)]))];
  fill(place, el("h2", {}, "Cloth"), lists?.size ? el("p", {}, `The top measures ${lists.size}.`) : null, el("h3", {}, "On the wall"), shown, ...more);
}

const ratio = (value) => (value === null || value === undefined ? "–" : value.toFixed(2));

function candidate(json, i) {
  const canvas = el("canvas", { "aria-hidden": "true" });
  const words = `spread ${ratio(json.spread)}, colour ${ratio(json.colour)}, value ${ratio(json.value)}`;
  const paint = async () => {
    const top = await topOf(json).catch(() => null);
    if (top) thumbnail(canvas, top, now.view.fabrics, { look: "cloth", side: now.view.cloth_side, came: paint });
  };
  paint();
  return el("li", {}, el("button", { type: "button", data: { keep: `candidate ${i}` }, on: { click: async () => {
    if (await ask({ do: "take", number: i })) say(`Candidate ${i + 1} is on the wall`);
  } } }, canvas, el("span", { className: "mark" }, `Candidate ${i + 1}`), el("span", { className: "note" }, words)));
}

function drawKept() {
  const { view } = now;
  const name = el("input", { value: "", placeholder: "a name", maxLength: 60, data: { keep: "version name" } });
  const keep = async () => {
    const called = name.value.trim() || `Step ${view.steps}`;
    if (await ask({ do: "keep", name: called })) say(`Kept as ${called}`);
  };
  const running = now.running === "candidates";
  const { candidates } = view;
  fill(by("kept"), el("h2", {}, "Side by side"),
    el("p", { className: "note" }, "Six other layouts of the same plan, to choose from. Lower numbers are evener; a plain shuffle is 1."),
    el("div", { className: "row" },
      button(running ? "Looking…" : "Show six others", () => ask({ do: "shuffle", candidates: 6 }), { disabled: running || view.fabrics.length === 0, data: { keep: "six" } }),
      candidates.length > 0 ? button("Put them away", () => ask({ do: "put-away" }), { data: { keep: "away" } }) : null),
    el("ul", { className: "sheet" }, ...candidates.map(candidate)),
    el("h2", {}, "Kept versions"),
    el("div", { className: "row" }, el("label", {}, "Keep the wall as", name), button("Keep", keep, { disabled: !view.top, data: { keep: "keep" } })),
    view.versions.length === 0 ? el("p", { className: "note" }, "Nothing is kept yet. Undo goes back without limit; a version is there for good.") : null,
    el("ul", { className: "fabrics" }, ...view.versions.map((version) => el("li", { className: "row" }, el("span", { className: "mark" }, version.name),
      button("Bring back", () => ask({ do: "bring-back", file: version.file }), { "aria-label": `Bring back ${version.name}`, data: { keep: `back ${version.file}` } }),
      button("Drop", () => ask({ do: "drop-version", file: version.file }), { "aria-label": `Drop ${version.name}`, data: { keep: `drop ${version.file}` } })))));
}

const says = {
  "handout.pdf": "The handout: map, cutting, sewing, to print", "preview.png": "The top in cloth", "values.png": "The top in values",
  "squint.png": "The top from across the room", "flat.png": "The top in one colour each", "counts.csv": "How many of each fabric",
  "cutting.csv": "What to cut", "buying.csv": "What to buy", "layout.json": "The layout's file", "plan.json": "The plan's file", "palette.json": "The fabrics' file",
};

function drawHome() {
  const running = now.running === "export";
  const { exported, progress } = now;
  fill(by("home"), el("h2", {}, "Take home"),
    el("p", {}, "Writes the handout, pictures and lists of what hangs on the wall into the project's folder, and puts them here to be saved."),
    button(running ? "Writing…" : "Write everything", () => { now.exported = null; ask({ do: "export" }); }, { className: "main", disabled: running || !now.view.top, data: { keep: "write" } }),
    running && progress ? el("p", { className: "note" }, `${progress.step}…`) : null,
    exported ? el("p", {}, `In ${exported.folder}:`) : null,
    exported ? el("ul", {}, ...exported.files.map((file) => el("li", {}, el("a", { href: address("export", { file }), download: file, data: { keep: file } }, file), `: ${says[file] ?? ""}`))) : null,
    el("h3", {}, "The project"),
    el("p", { className: "note" }, `Everything is kept as it happens in ${now.view.folder}. ${count(now.view.steps, "step")} can be undone.`),
    ...now.view.remarks.map((remark) => el("p", { className: "note" }, remark)));
}

export function begin() {
  listen((what) => {
    if (!now.view) return;
    if (what === "lists" || what === "view") drawCloth();
    if (what === "view" || what === "running") drawKept();
    if (["view", "running", "exported"].includes(what)) drawHome();
    if (what === "exported") say("Everything is written");
  });
}
