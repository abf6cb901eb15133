// Small pieces of page: elements, icons, sentences.

/** An element with its properties and children; `on` names its listeners. */
export function el(tag, { on, data, ...props } = {}, ...children) {
  const element = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (value === undefined || value === null) continue;
    if (key in element && key !== "list" && key !== "role") element[key] = value;
    else element.setAttribute(key, value === true ? "" : value);
  }
  for (const [name, listener] of Object.entries(on ?? {})) element.addEventListener(name, listener);
  Object.assign(element.dataset, data ?? {});
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}

export function icon(name) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("aria-hidden", "true");
  const use = document.createElementNS("http://www.w3.org/2000/svg", "use");
  use.setAttribute("href", `#i-${name}`);
  svg.append(use);
  return svg;
}

export const by = (id) => document.getElementById(id);

/** Puts new children in place of the old, and the focus back on what has the same `data-keep`. */
export function fill(place, ...children) {
  const held = place.contains(document.activeElement) ? document.activeElement.dataset.keep : undefined;
  place.replaceChildren(...children.filter((child) => child !== null && child !== undefined));
  if (held) place.querySelector(`[data-keep="${CSS.escape(held)}"]`)?.focus({ preventScroll: true });
}

export function count(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}

let clearing = 0;
/** Said to everybody: on the page, and by a screen reader. */
export function say(text) {
  const status = by("status");
  clearTimeout(clearing);
  if (status.textContent === text) status.textContent = "";
  status.textContent = text;
}

/** A choice among a few, each a radio with its label. */
export function choice(name, options, chosen, chose) {
  return options.map(([value, text]) =>
    el("label", {}, el("input", {
      type: "radio", name, value, checked: value === chosen, on: { change: () => chose(value) },
    }), text));
}

export function select(options, chosen, props = {}) {
  return el("select", props, ...options.map(([value, text]) => el("option", { value, selected: value === chosen }, text)));
}

export function button(text, click, props = {}, iconName = null) {
  return el("button", { type: "button", ...props, on: { click } }, iconName ? icon(iconName) : null, el("span", {}, text));
}
