// Runs in the browser: puts each drawing of `cases` on the page and writes down where its shapes lie, in mm from the
// page's top left (in user units where the drawing has no size of its own).
"use strict";

const NS = "http://www.w3.org/2000/svg";
const DESK_SIZE = 100000; // lengths along a path are good to half a unit: measure on a copy of about this size
const SAMPLES = 960;
const SHAPES = "path,rect,circle,ellipse,line,polyline,polygon,use";

function states(size) { return size && !/%|auto/.test(size); }

// A drawing without a size of its own is given one px per user unit.
function give_size(svg) {
  const stated = states(svg.getAttribute("width")) || states(svg.getAttribute("height")) || /width|height/.test(svg.getAttribute("style") || "");
  if (stated) return 25.4 / 96;
  const box = svg.viewBox.baseVal;
  if (svg.hasAttribute("viewBox") && box && box.width > 0) {
    svg.setAttribute("width", box.width);
    svg.setAttribute("height", box.height);
  } else {
    svg.removeAttribute("width");
    svg.removeAttribute("height");
  }
  return 1;
}

// The used value of a length property, in user units.
function used(element, name, lengths) {
  const value = getComputedStyle(element).getPropertyValue(name);
  const number = parseFloat(value);
  if (/^-?[\d.]+(e[-+]?\d+)?px$/.test(value)) return number;
  if (!/^-?[\d.]+%$/.test(value)) return lengths.baseVal.value;
  const svg = element.viewportElement;
  const box = svg.hasAttribute("viewBox") ? svg.viewBox.baseVal : { width: svg.width.baseVal.value, height: svg.height.baseVal.value };
  if (/^(x|cx|width|rx)$/.test(name)) return number / 100 * box.width;
  if (/^(y|cy|height|ry)$/.test(name)) return number / 100 * box.height;
  return number / 100 * Math.hypot(box.width, box.height) / Math.SQRT2;
}

const HIDING = "defs,symbol,clipPath,mask,pattern,marker,linearGradient,radialGradient,filter,metadata,foreignObject,text";

// What a map without inverse places is not displayed, though a script is told where it would lie.
function collapses(m) { return Math.abs(m.a * m.d - m.b * m.c) <= 1e-12 * (Math.abs(m.a * m.d) + Math.abs(m.b * m.c)); }

// A viewBox of no size hides what is in it, though a script is told of boxes; one that is none at all is ignored.
function flattens(svg) {
  const numbers = (svg.getAttribute("viewBox") || "").trim().split(/[\s,]+/).map(Number);
  return svg.localName === "svg" && numbers.length === 4 && numbers.every(v => v >= 0 || v < 0) && (numbers[2] === 0 || numbers[3] === 0);
}

// Hidden containers give their children boxes too, though nothing of them is drawn.
function is_drawn(e, root) {
  if (e.namespaceURI !== NS || !e.checkVisibility() || collapses(e.getScreenCTM())) return false;
  if (flattens(root)) return false;
  for (let up = e; up !== root; up = up.parentNode) {
    if (getComputedStyle(up).display === "none") return false;
    if (up === e) continue;
    if (up.namespaceURI !== NS || up.matches(HIDING) || flattens(up)) return false;
    if (up.localName === "svg" && (up.width.baseVal.value <= 0 || up.height.baseVal.value <= 0)) return false;
  }
  return true;
}

// The shape as path data in its own user units, times `up`.
function scaled_data(e, up) {
  const n = (...values) => values.map(v => v * up).join(" ");
  switch (e.localName) {
  case "path": {
    const d = getComputedStyle(e).d;
    const data = d.match(/"(.*)"/);
    if (!data) return "";
    return data[1].replace(/([A-Za-z])([^A-Za-z]*(?:e[-+]?\d+[^A-Za-z]*)*)/g, (all, letter, rest) => {
      const numbers = (rest.match(/[-+]?[\d.]+(?:e[-+]?\d+)?/g) || []).map(Number);
      const arc = letter.toUpperCase() === "A";
      return letter + numbers.map((v, i) => arc && i % 7 >= 2 && i % 7 <= 4 ? v : v * up).join(" ");
    });
  }
  case "line": return `M${n(e.x1.baseVal.value, e.y1.baseVal.value)}L${n(e.x2.baseVal.value, e.y2.baseVal.value)}`;
  case "polyline":
  case "polygon": {
    const points = [...e.points].map(p => n(p.x, p.y));
    return points.length ? "M" + points.join("L") + (e.localName === "polygon" ? "Z" : "") : "";
  }
  }
  return null;
}

function scaled_copy(e, up) {
  const data = scaled_data(e, up);
  const copy = document.createElementNS(NS, data === null ? e.localName : "path");
  if (data !== null) {
    copy.setAttribute("d", data);
    return copy;
  }
  const names = { rect: ["x", "y", "width", "height", "rx", "ry"], circle: ["cx", "cy", "r"], ellipse: ["cx", "cy", "rx", "ry"] }[e.localName];
  for (const name of names) {
    const value = used(e, name, e[name]);
    const automatic = (name === "rx" || name === "ry") && getComputedStyle(e).getPropertyValue(name) === "auto";
    if (!automatic) copy.setAttribute(name, value * up);
  }
  return copy;
}

// The numbers of path data with their letters, absolute ends worked out: [letter, values, from, to].
function segments_of(data) {
  const counts = { m: 2, l: 2, h: 1, v: 1, c: 6, s: 4, q: 4, t: 2, a: 7, z: 0 };
  const out = [];
  let at = [0, 0], start = [0, 0];
  for (const [, letter, rest] of data.matchAll(/([A-Za-z])([^A-Za-z]*(?:e[-+]?\d+[^A-Za-z]*)*)/g)) {
    const values = (rest.match(/[-+]?[\d.]+(?:e[-+]?\d+)?/g) || []).map(Number);
    const kind = letter.toLowerCase(), count = counts[kind];
    for (let i = 0; i === 0 || i < values.length; i += count || values.length + 1) {
      const v = values.slice(i, i + count);
      const base = letter === kind ? at : [0, 0];
      const from = at;
      if (kind === "z") at = start;
      else if (kind === "h") at = [base[0] + v[0], at[1]];
      else if (kind === "v") at = [at[0], base[1] + v[0]];
      else at = [base[0] + v[count - 2], base[1] + v[count - 1]];
      if (kind === "m" && i === 0) start = at;
      out.push([kind, v, from, at]);
    }
  }
  return out;
}

// How far the browser's arcs may lie from true ones, in user units. It makes cubics of them, good to 2.7e-4 of the
// larger radius. Where radii too small for the chord are scaled up, the centre is the root of a difference that should
// be 0 and, in single precision, is a few roundings of the ends measured in radii.
function arc_slack(e) {
  let slack = 0;
  for (const [kind, v, from, to] of segments_of(getComputedStyle(e).d.replace(/^path\("?|"?\)$/g, ""))) {
    const [rx, ry, turn] = [Math.abs(v[0]), Math.abs(v[1]), v[2] * Math.PI / 180];
    if (kind !== "a" || !(rx > 0 && ry > 0)) continue;
    const half = [(from[0] - to[0]) / 2, (from[1] - to[1]) / 2];
    const grow = Math.hypot((Math.cos(turn) * half[0] + Math.sin(turn) * half[1]) / rx, (Math.cos(turn) * half[1] - Math.sin(turn) * half[0]) / ry);
    const larger = Math.max(rx, ry) * Math.max(grow, 1), smaller = Math.min(rx, ry) * Math.max(grow, 1);
    const rounding = 6e-8 * (2 + 2 * Math.hypot(...from) / smaller);
    slack = Math.max(slack, 2.8e-4 * larger + (grow > 0.999 ? 2 * larger * Math.sqrt(rounding) : 0));
  }
  return slack;
}

// For `use` the slack of the paths it draws, whatever their own maps.
function slack_of(e) {
  if (e.localName === "path") return arc_slack(e);
  if (e.localName !== "use") return 0;
  const target = e.ownerDocument.getElementById(e.href.baseVal.slice(1));
  if (target === null) return 0;
  return 2 * enlarged_by(e, target) * Math.max(0, ...[target, ...target.querySelectorAll("path")].map(t => t.localName === "path" ? arc_slack(t) : 0));
}

// How much larger a symbol's viewBox makes what is in it.
function enlarged_by(use, target) {
  if (target.localName !== "symbol" || !target.hasAttribute("viewBox")) return 1;
  const box = target.viewBox.baseVal, port = use.viewportElement.getBBox ? use.viewportElement : use.ownerSVGElement;
  const inner = port.hasAttribute("viewBox") ? port.viewBox.baseVal : { width: port.width.baseVal.value, height: port.height.baseVal.value };
  const width = use.hasAttribute("width") ? use.width.baseVal.value : inner.width;
  const height = use.hasAttribute("height") ? use.height.baseVal.value : inner.height;
  return Math.max(width / box.width, height / box.height, 1);
}

// Whether a box, of this shape or of a group round it, has a say in the map: then it is as wrong as the browser's arcs.
function leans_on_box(e) {
  for (let up = e; up.namespaceURI === NS; up = up.parentNode)
    if (getComputedStyle(up).transformBox === "fill-box" && getComputedStyle(up).transform !== "none") return true;
  return false;
}

function stretch_of(e, factor) {
  const m = e.getScreenCTM();
  return factor * Math.max(Math.hypot(m.a, m.b), Math.hypot(m.c, m.d)) * Math.SQRT2;
}

function box_of(points) {
  const xs = points.map(p => p[0]), ys = points.map(p => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

// From the element's user units to the page.
function place(e, origin, factor) {
  const m = e.getScreenCTM();
  return (x, y) => [(m.a * x + m.c * y + m.e - origin.x) * factor, (m.b * x + m.d * y + m.f - origin.y) * factor];
}

// What samples miss: the ends of the segments.
function corners_of(e, put) {
  const ends = e.localName === "rect" ? [] : segments_of(scaled_data(e, 1) || "").filter(([kind], i, all) => kind !== "m" || (i + 1 < all.length && all[i + 1][0] !== "m")).map(s => s[3]);
  return ends.map(p => put(...p));
}

function measure_use(e, put) {
  const b = e.getBBox();
  return { tag: "use", id: e.id, bbox: box_of([put(b.x, b.y), put(b.x + b.width, b.y), put(b.x, b.y + b.height), put(b.x + b.width, b.y + b.height)]) };
}

function measure(e, put, desk) {
  const own = e.getBBox();
  const size = Math.max(Math.abs(own.x), Math.abs(own.y), Math.abs(own.x + own.width), Math.abs(own.y + own.height));
  const up = DESK_SIZE / (size || 1);
  const copy = scaled_copy(e, up);
  desk.appendChild(copy);
  const total = copy.getTotalLength();
  if (!(total > 0)) {
    copy.remove();
    return null;
  }
  const b = copy.getBBox();
  const fine = [];
  const raw = [];
  // The very ends are left out: there the last move of the pen may stand instead of the line's end.
  for (let i = 0; i < 4 * SAMPLES; ++i) {
    const p = copy.getPointAtLength(total * (i + 0.5) / (4 * SAMPLES));
    raw.push([p.x, p.y]);
    fine.push(put(p.x / up, p.y / up));
  }
  copy.remove();
  // Where the map does not keep angles the box is that of the samples and the corners, else the browser's own is exact.
  const corners = box_of([put(b.x / up, b.y / up), put((b.x + b.width) / up, (b.y + b.height) / up)]);
  const [o, x, y] = [put(0, 0), put(1, 0), put(0, 1)];
  const u = [x[0] - o[0], x[1] - o[1]], v = [y[0] - o[0], y[1] - o[1]];
  const scale = Math.hypot(...u);
  const upright = (u[1] === 0 && v[0] === 0) || (u[0] === 0 && v[1] === 0);
  const even = Math.abs(u[0] * v[0] + u[1] * v[1]) < 1e-5 * scale * scale && Math.abs(Math.hypot(...v) - scale) < 1e-5 * scale;
  let length = total / up * scale;
  if (!even) {
    const apart = (points, i) => Math.hypot(points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]);
    const longest = total / (4 * SAMPLES) * 1.01 + 1; // further apart: the pen was lifted between the two
    length = 0;
    let steps = 0;
    for (let i = 1; i < fine.length; ++i) {
      if (apart(raw, i) > longest) continue;
      length += apart(fine, i);
      ++steps;
    }
    length *= fine.length / steps;
  }
  return { tag: e.localName, id: e.id, bbox: upright ? corners : box_of([...fine, ...corners_of(e, put)]), length, even, upright, map: [o, x, y], leans: leans_on_box(e), data: e.localName === "path" ? getComputedStyle(e).d.replace(/^path\("?|"?\)$/g, "") : null, points: fine.filter((p, i) => i % 4 === 0) };
}

function measure_case(text) {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml");
  const fault = parsed.getElementsByTagName("parsererror")[0];
  if (fault) return fault.textContent.slice(0, 200);
  const svg = document.importNode(parsed.documentElement, true);
  const stage = document.getElementById("stage");
  stage.replaceChildren(svg);
  const factor = give_size(svg);
  const shelter = document.createElement("div"); // the drawing's style sheets do not reach into its shadow
  stage.appendChild(shelter);
  const desk = shelter.attachShadow({ mode: "open" }).appendChild(document.createElementNS(NS, "svg"));
  const box = svg.getBoundingClientRect();
  const found = [];
  for (const e of svg.querySelectorAll(SHAPES)) {
    if (!is_drawn(e, svg)) continue;
    const put = place(e, box, factor);
    const b = e.getBBox();
    const arcs = slack_of(e) * stretch_of(e, factor);
    if (e.localName === "use") {
      if (b.width > 0 || b.height > 0) found.push({ ...measure_use(e, put), arcs });
      continue;
    }
    if (/^(rect|circle|ellipse)$/.test(e.localName) && (b.width === 0 || b.height === 0)) continue;
    const shape = measure(e, put, desk);
    if (shape) found.push({ ...shape, arcs });
  }
  stage.replaceChildren();
  return found;
}

function guarded(text) {
  try {
    return measure_case(text);
  } catch (fault) {
    return String(fault.stack);
  }
}

document.getElementById("out").textContent = JSON.stringify(cases.map(guarded));
