// The plan as a form: size, sewing, setting, rules, wishes.

import { by, el, fill, say, select } from "./words.js";
import { ask, fetchJson, listen, now } from "./wire.js";
import { shuffle } from "./tools.js";

const place = by("planning");
let recipes = [];

/** Sets keys of the plan; a top of another size is laid out at once. */
async function set(values) {
  const hung = Boolean(now.view.top);
  if (!await ask({ do: "plan", set: values })) return;
  if (hung && !now.view.top) shuffle();
}

const at = (path) => path.split("/").slice(1).reduce((json, key) => json?.[key], now.view.plan);

function field(text, control) { return el("label", {}, text, control); }

function number(text, path, least, most, usual) {
  const input = el("input", { type: "number", min: least, max: most, value: at(path) ?? usual, data: { keep: path }, on: { change: () => {
    const value = Math.round(Number(input.value));
    if (!(value >= least && value <= most)) return say(`${text}: a whole number from ${least} to ${most}`);
    set({ [path]: value });
  } } });
  return field(text, input);
}

function length(text, path, usual) {
  const input = el("input", { value: at(path) ?? usual, className: "narrow", data: { keep: path }, on: { change: () => set({ [path]: input.value.trim() || null }) } });
  return field(text, input);
}

function list(text, path, options, usual) {
  const said = at(path);
  const known = options.some(([value]) => value === said);
  const all = said !== undefined && !known ? [["", "as the plan's file says"], ...options] : options;
  const chosen = said === undefined ? usual : known ? said : "";
  return field(text, select(all, chosen, { data: { keep: path }, on: { change: (event) => { if (event.target.value) set({ [path]: event.target.value }); } } }));
}

function check(text, path) {
  return field(text, el("input", { type: "checkbox", checked: Boolean(at(path)), data: { keep: path }, on: { change: (event) => set({ [path]: event.target.checked }) } }));
}

function wish(text, path, usual) {
  const input = el("input", { type: "range", min: 0, max: 3, step: 0.25, value: at(path) ?? usual, data: { keep: path }, on: { change: () => set({ [path]: Number(input.value) }) } });
  return field(text, input);
}

function sewing() {
  const said = now.view.plan.unit?.recipe ?? "plain-square";
  const known = recipes.find(({ id }) => id === said);
  const options = [...(known ? [] : [["", "a recipe of your own"]]), ...recipes.map(({ id, name }) => [id, name])];
  return [
    field("Units are sewn as", select(options, known ? said : "", { data: { keep: "recipe" }, on: { change: (event) => {
      if (event.target.value) set({ "/unit/recipe": event.target.value, "/unit/choices": null, "/unit/roles": null, "/pins": null });
    } } })),
    known ? el("p", { className: "note" }, known.about) : null,
  ];
}

const fabrics = () => now.view.fabrics.map(({ id, name }) => [id, name]);

/** A strip between the units, or one border around them: a width and a fabric. */
function strips(title, path, json, make) {
  if (json && !make.simple(json)) return [el("h3", {}, title), el("p", { className: "note" }, "The plan's file says more about this than fits here; change it there.")];
  const own = make.read(json);
  const width = el("input", { value: own?.width ?? "", className: "narrow", placeholder: "none", data: { keep: `${path} width` } });
  const cloth = select([["", "none"], ...fabrics()], own?.fabric ?? "", { data: { keep: `${path} fabric` } });
  const send = () => {
    if (!cloth.value || !width.value.trim()) { if (json) set({ [path]: null }); return; }
    set({ [path]: make.write(width.value.trim(), cloth.value) });
  };
  width.addEventListener("change", send);
  cloth.addEventListener("change", send);
  return [el("h3", {}, title), field("Finished width", width), field("Fabric", cloth)];
}

const sashing = {
  simple: (json) => Object.keys(json).every((key) => ["width", "fabric"].includes(key)),
  read: (json) => json,
  write: (width, fabric) => ({ width, fabric }),
};
const border = {
  simple: (json) => json.length === 0 || (json.length === 1 && Object.keys(json[0]).every((key) => ["width", "fabric"].includes(key)) && typeof json[0].fabric === "string"),
  read: (json) => json?.[0],
  write: (width, fabric) => [{ width, fabric }],
};

function draw() {
  const { view } = now;
  if (place.contains(document.activeElement) && document.activeElement.matches("input:not([type=checkbox]):not([type=range])") && draw.revision === view.revision) return;
  draw.revision = view.revision;
  const usual = view.measure === "metric" ? "15" : "6";
  fill(place, el("h2", {}, "Plan"), el("div", { className: "fields" },
    length("The quilt is called", "/name", ""),
    number("Units across", "/setting/columns", 1, 200, 8), number("Units down", "/setting/rows", 1, 200, 10),
    list("Lengths in", "/measure", [["inch", "inches"], ["metric", "centimetres"]], "inch"),
    length("A finished unit measures", "/unit/finished", usual),
    ...sewing(),
    list("Units are set", "/setting/arrangement", [["straight", "in rows"], ["on-point", "on point"], ["brick", "like bricks"]], "straight"),
    list("Units are turned", "/unit/turns", [["fixed", "all alike"], ["alternate", "every other one"], ["any", "as suits best"], ["pinwheel", "as pinwheels"],
      ["broken-dishes", "as broken dishes"], ["barn-raising", "as a barn raising"], ["straight-furrow", "as straight furrows"],
      ["sunshine-and-shadow", "as sunshine and shadow"], ["streak-of-lightning", "as a streak of lightning"]], "fixed"),
    list("The top is its own image", "/setting/symmetry", [["none", "not at all"], ["mirror", "left to right"], ["mirror-both", "both ways"],
      ["half-turn", "after a half turn"], ["quarter-turn", "after a quarter turn"]], "none")),
  el("h2", {}, "Must hold"), el("div", { className: "fields" },
    list("The same fabric meets itself", "/rules/touching", [["corner", "nowhere"], ["edge", "at corners only"], ["free", "wherever it falls"]], "corner"),
    number("It comes back after so many units", "/rules/apart", 1, 20, 1),
    check("Never twice in a row or column", "/rules/line"),
    number("Lightness apart inside a unit, at least", "/rules/contrast", 0, 100, 0)),
  el("h2", {}, "Wished for"), el("p", { className: "note" }, "From not at all, on the left, to very much."), el("div", { className: "fields" },
    wish("The same fabric far from itself", "/wishes/spread", 1), wish("Like colours far apart", "/wishes/colour", 0.5),
    wish("Lights and darks follow the aim", "/wishes/value", 1),
    list("Aim of lights and darks", "/wishes/value_aim", [["even", "even all over"], ["across", "light left, dark right"], ["down", "light above, dark below"],
      ["diagonal", "light to dark aslant"], ["centre", "from the middle out"]], "even"),
    ...strips("Sashing", "/setting/sashing", view.plan.setting.sashing, sashing),
    ...strips("Border", "/setting/borders", view.plan.setting.borders, border)));
}

export async function begin() {
  listen((what) => { if (what === "view") draw(); });
  recipes = await fetchJson("recipes").catch(() => []);
  if (now.view) draw();
}
