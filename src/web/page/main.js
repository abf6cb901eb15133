// The page comes together.

import { by, el } from "./words.js";
import { now, open, refresh } from "./wire.js";
import "./wall.js";
import "./hands.js";
import * as tools from "./tools.js";
import * as shelf from "./shelf.js";
import * as planning from "./planning.js";
import * as sheets from "./sheets.js";

const panels = [["shelf", "Shelf"], ["planning", "Plan"], ["cloth", "Cloth"], ["kept", "Kept"], ["home", "Take home"]];

function show(id, focus = false) {
  for (const [panel] of panels) {
    const tab = by(`tab-${panel}`);
    const on = panel === id;
    by(panel).hidden = !on;
    tab.setAttribute("aria-selected", String(on));
    tab.tabIndex = on ? 0 : -1;
    if (on && focus) tab.focus();
  }
}

/** Tabs as the authoring practices for them say: arrows go from one to the next. */
function makeTabs() {
  panels.forEach(([id, text], i) => {
    const step = (by_) => show(panels[(i + by_ + panels.length) % panels.length][0], true);
    by("tabs").append(el("button", { type: "button", role: "tab", id: `tab-${id}`, "aria-controls": id, on: {
      click: () => show(id),
      keydown: (event) => {
        if (event.key === "ArrowRight") step(1);
        if (event.key === "ArrowLeft") step(-1);
        if (event.key === "Home") show(panels[0][0], true);
        if (event.key === "End") show(panels.at(-1)[0], true);
      },
    } }, text));
    by(id).setAttribute("aria-labelledby", `tab-${id}`);
  });
  show("shelf");
}

makeTabs();
tools.begin();
shelf.begin();
planning.begin();
sheets.begin();
refresh().then(() => { if (now.view.top) by("marks").focus({ preventScroll: true }); }).finally(open);
