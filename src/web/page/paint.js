// Draws a top on a canvas: cloth from its pictures, cut and turned as it is sewn; or values, colours, letters.

import { cloth } from "./cloth.js";

const paper = "#f4f1ea";
const ink = "#20242a";

/** One drawing of a top: `scale` is pixels to the inch, (x, y) where its top left corner lies. */
export class Painter {
  constructor(pen, top, fabrics, { look, side, came }) {
    this.pen = pen;
    this.top = top;
    this.fabrics = fabrics;
    this.look = look;
    this.side = side;
    this.came = came;
    this.patterns = new Map();
  }

  /** A repeating picture of a fabric at the size that suits the scale, and its pixels to the inch. */
  pattern(number, scale) {
    if (this.patterns.has(number)) return this.patterns.get(number);
    const levels = this.look === "cloth" ? cloth(this.fabrics[number], this.side, this.came) : null;
    let made = null;
    if (levels) {
      let level = 0;
      while (level + 1 < levels.length && levels[level + 1].width / this.side >= scale) level += 1;
      made = { fill: this.pen.createPattern(levels[level], "repeat"), ppi: levels[level].width / this.side };
    }
    this.patterns.set(number, made);
    return made;
  }

  path(shape, scale, x, y) {
    const outline = shape[4];
    this.pen.beginPath();
    this.pen.moveTo(outline[0] * scale + x, outline[1] * scale + y);
    for (let i = 2; i < outline.length; i += 2) this.pen.lineTo(outline[i] * scale + x, outline[i + 1] * scale + y);
    this.pen.closePath();
  }

  plain(fabric) {
    if (this.look === "values") return fabric.grey ?? "#808080";
    if (this.look === "letters") return paper;
    return fabric.colour ?? "#808080";
  }

  shape(i, scale, x, y) {
    const { pen, top } = this;
    const shape = top.shapes[i];
    const number = top.fabrics[i];
    const fabric = this.fabrics[number];
    if (!fabric) return;
    this.path(shape, scale, x, y);
    const pattern = this.pattern(number, scale);
    if (pattern) {
      const [xx, xy, yx, yy, tx, ty] = shape[5];
      const [ox, oy] = this.place(shape[3], number);
      const s = scale / pattern.ppi;
      const ax = -ox - tx;
      const ay = -oy - ty;
      pattern.fill.setTransform(new DOMMatrix([s * xx, s * xy, s * yx, s * yy,
        scale * (xx * ax + yx * ay) + x, scale * (xy * ax + yy * ay) + y]));
      pen.fillStyle = pattern.fill;
    } else {
      pen.fillStyle = this.plain(fabric);
    }
    pen.fill();
    if (this.look !== "squint") this.edge(scale);
    if (this.look === "letters") this.letter(shape, fabric, scale, x, y);
  }

  /** Seams: a thread's shadow between patches; none where patches are too small for it. */
  edge(scale) {
    if (scale * this.top.unit < 7) return;
    this.pen.lineWidth = Math.max(0.6, Math.min(2, scale * 0.06));
    this.pen.strokeStyle = this.look === "letters" ? "#6b6760" : "#00000038";
    this.pen.stroke();
  }

  letter(shape, fabric, scale, x, y) {
    const outline = shape[4];
    const corners = outline.length / 2;
    let mx = 0;
    let my = 0;
    let left = Infinity;
    let right = -Infinity;
    for (let i = 0; i < outline.length; i += 2) {
      mx += outline[i] / corners;
      my += outline[i + 1] / corners;
      left = Math.min(left, outline[i]);
      right = Math.max(right, outline[i]);
    }
    const size = Math.min((right - left) * scale * 0.55, this.top.unit * scale * 0.45);
    if (size < 5) return;
    this.pen.font = `600 ${size}px system-ui, sans-serif`;
    this.pen.textAlign = "center";
    this.pen.textBaseline = "middle";
    this.pen.fillStyle = ink;
    this.pen.fillText(fabric.letter, mx * scale + x, my * scale + y);
  }

  /** Where on its cloth a piece is cut: somewhere else for each, the same each time. */
  place(piece, number) {
    const room = Math.max(0, this.side - this.top.unit - 0.6);
    const mix = Math.imul(piece * 2654435761 + number * 40503, 2246822519) >>> 0;
    return [((mix & 0xffff) / 65536) * room, ((mix >>> 16) / 65536) * room];
  }

  /** All shapes that show in a window of pixels. */
  all(scale, x, y, width, height) {
    const { shapes } = this.top;
    for (let i = 0; i < shapes.length; i += 1) {
      const outline = shapes[i][4];
      let inside = shapes[i][0] > 5 || outline.length > 8;
      if (!inside) {
        const px = outline[0] * scale + x;
        const py = outline[1] * scale + y;
        const reach = Math.max(Math.abs(outline[4] - outline[0]), Math.abs(outline[5] - outline[1]),
          Math.abs(outline[2] - outline[0]), Math.abs(outline[3] - outline[1])) * scale * 1.5 + 2;
        inside = px > -reach && py > -reach && px < width + reach && py < height + reach;
      }
      if (inside) this.shape(i, scale, x, y);
    }
  }
}

/** A whole top on a small canvas. */
export function thumbnail(canvas, top, fabrics, options) {
  const width = 320;
  const scale = width / top.width;
  canvas.width = width;
  canvas.height = Math.max(1, Math.round(top.height * scale));
  const painter = new Painter(canvas.getContext("2d"), top, fabrics, options);
  painter.all(scale, 0, 0, canvas.width, canvas.height);
}
