// The fabrics as pictures: from the program once, then made smaller by halves, so that a top seen from afar does
// not glitter.

import { address } from "./wire.js";

const known = new Map(); // By address.
const waiting = new Map(); // Who is to be told.

function halves(image) {
  const levels = [];
  let from = image;
  for (let side = image.width; side >= 8; side >>= 1) {
    const canvas = new OffscreenCanvas(side, side);
    const pen = canvas.getContext("2d");
    pen.imageSmoothingQuality = "high";
    pen.drawImage(from, 0, 0, side, side);
    levels.push(canvas);
    from = canvas;
  }
  return levels;
}

/** Pictures of a fabric, largest first, or null while they are on their way (then `came` is called). */
export function cloth(fabric, side, came) {
  if (!fabric.cloth) return null;
  const where = address("cloth", { fabric: fabric.id, of: fabric.cloth, side, width: fabric.width ?? "" });
  const found = known.get(where);
  if (found) return found;
  waiting.get(where)?.add(came);
  if (!waiting.has(where)) {
    waiting.set(where, new Set([came]));
    fetch(where).then((response) => (response.ok ? response.blob() : Promise.reject(new Error("no cloth"))))
      .then((blob) => createImageBitmap(blob))
      .then((image) => { known.set(where, halves(image)); })
      .catch(() => {})
      .finally(() => {
        const told = waiting.get(where);
        waiting.delete(where);
        for (const one of told) one();
      });
  }
  return null;
}

export const stillComing = () => waiting.size > 0;
