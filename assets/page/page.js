// The one-file page at work. Everything it shows stands in the page already; without this script it is all shown at
// once. Places are mm of the board; the picture of the bottom side is mirrored (x to -x), as the board is.
"use strict";

(() => {
  const root = document.documentElement;
  const body = document.body;
  root.classList.add("js");

  const SVG = "http://www.w3.org/2000/svg";
  const by = id => document.getElementById(id);
  const all = (selector, from = document) => [...from.querySelectorAll(selector)];
  const say = text => { by("answer").textContent = text; };

  const make = (name, attributes, text) => {
    const element = document.createElement(name);
    for (const key in attributes) element.setAttribute(key, attributes[key]);
    if (text !== undefined) element.textContent = text;
    return element;
  };
  const draw = (name, attributes, into) => {
    const element = document.createElementNS(SVG, name);
    for (const key in attributes) element.setAttribute(key, attributes[key]);
    into.append(element);
    return element;
  };

  // ---- The maps, one a side ------------------------------------------------------------------------------------

  const maps = new Map(all(".map").map(figure => {
    const svg = figure.querySelector(".picture");
    const full = svg.getAttribute("viewBox").split(" ").map(Number);
    return [figure.dataset.side, { svg, full, view: [...full], overlay: svg.querySelector(".overlay") }];
  }));
  const levels = body.dataset.levels.trim().split(" ").map(Number);
  const MOST_NEAR = 12; // times the whole board
  const side = () => body.dataset.side;
  const map = () => maps.get(side());
  const sign = () => side() === "bottom" ? -1 : 1;

  // How many px of the screen a mm is, and with it the size of signs, hatches and which names are shown.
  const apply_scale = px_per_mm => {
    const mm = 1 / px_per_mm;
    root.style.setProperty("--u", mm);
    for (const hatch of all(".hatch")) hatch.setAttribute("patternTransform", `scale(${mm})`);
    let level = 0;
    levels.forEach((px, i) => { if (px_per_mm >= px * 0.85) level = i; });
    body.dataset.level = level;
  };
  const px_per_mm = (of = map()) => {
    const box = of.svg.getBoundingClientRect();
    return Math.min(box.width / of.view[2], box.height / of.view[3]) || levels[0];
  };
  const show_view = (of = map()) => {
    of.svg.setAttribute("viewBox", of.view.map(v => +v.toFixed(4)).join(" "));
    apply_scale(px_per_mm(of));
    draw_overlay();
  };
  const place_at = (x, y) => {
    const at = new DOMPoint(x, y).matrixTransform(map().svg.getScreenCTM().inverse());
    return [at.x, at.y];
  };
  const zoom = (factor, about) => {
    const m = map();
    const [x, y, w, h] = m.view;
    const width = Math.min(m.full[2], Math.max(m.full[2] / MOST_NEAR, w / factor));
    const k = width / w;
    const [cx, cy] = about || [x + w / 2, y + h / 2];
    m.view = [cx - (cx - x) * k, cy - (cy - y) * k, width, h * k];
    if (k * w >= m.full[2]) m.view = [...m.full];
    show_view();
  };
  const pan = (dx, dy) => {
    const m = map();
    const keep = (value, size, from, length) => Math.min(from + length - size / 2, Math.max(from - size / 2, value));
    m.view[0] = keep(m.view[0] + dx, m.view[2], m.full[0], m.full[2]);
    m.view[1] = keep(m.view[1] + dy, m.view[3], m.full[1], m.full[3]);
    show_view();
  };
  const flip_to = wanted => {
    if (wanted === side() || !maps.has(wanted)) return;
    const from = map();
    body.dataset.side = wanted;
    const [x, y, w, h] = from.view;
    const is_whole = w >= from.full[2] * 0.999;
    map().view = is_whole ? [...map().full] : [-(x + w), y, w, h];
    measure.points = [];
    show_view();
    say(wanted === "top" ? "Top side." : "Bottom side, mirrored.");
  };
  const show_stage = stage => {
    body.dataset.stage = stage;
    for (const button of all("[data-stage-button]"))
      button.setAttribute("aria-pressed", button.dataset.stageButton === stage);
  };

  // ---- Cards ---------------------------------------------------------------------------------------------------

  const cards = new Map(all(".card").map(card => [card.dataset.id, card]));
  let chosen = null;
  let hits = [];

  // Of what is drawn of a thing, without its names.
  const box_of = (id, of = map()) => {
    let box = null;
    for (const group of all(`[data-id="${CSS.escape(id)}"]`, of.svg))
      for (const path of all("path:not(.line-leader)", group)) {
        const b = path.getBBox();
        if (b.width === 0 && b.height === 0) continue;
        if (!box) box = [b.x, b.y, b.x + b.width, b.y + b.height];
        box = [Math.min(box[0], b.x), Math.min(box[1], b.y), Math.max(box[2], b.x + b.width), Math.max(box[3], b.y + b.height)];
      }
    const card = cards.get(id);
    if (!box && card) {
      const [x, y] = card.dataset.at.split(" ").map(Number);
      if (card.dataset.side === side()) box = [x * sign(), y, x * sign(), y];
    }
    return box;
  };
  const add_frame = (id, role, px) => {
    const box = box_of(id);
    if (!box) return;
    const grow = px / px_per_mm();
    draw("path", { class: `line-${role} w2`, d: `M${box[0] - grow} ${box[1] - grow}H${box[2] + grow}V${box[3] + grow}H${box[0] - grow}z` }, map().overlay);
  };
  const bring_into_view = id => {
    const box = box_of(id);
    if (!box) return;
    const m = map();
    const [x, y, w, h] = m.view;
    const inside = box[0] >= x && box[2] <= x + w && box[1] >= y && box[3] <= y + h;
    if (!inside) m.view = [(box[0] + box[2]) / 2 - w / 2, (box[1] + box[3]) / 2 - h / 2, w, h];
  };
  const choose = (id, { from_list = false } = {}) => {
    if (chosen) cards.get(chosen).classList.remove("is-shown");
    chosen = cards.has(id) ? id : null;
    if (chosen) {
      const card = cards.get(chosen);
      card.classList.add("is-shown");
      if (from_list) {
        flip_to(card.dataset.side);
        bring_into_view(chosen);
      }
      about = { target: chosen, side: card.dataset.side, at: card.dataset.at.split(" ").map(Number) };
      say(`${card.dataset.name}: ${card.querySelector("small").textContent}`);
      if (!is_narrow.matches) card.scrollIntoView({ block: "nearest" });
    } else {
      about = null;
    }
    tell_about();
    show_view();
  };

  // On a phone the card covers the foot of the window: it can be put away, and a note written in its place.
  const is_narrow = matchMedia("(max-width: 899px)");
  for (const card of cards.values()) {
    const tools = make("p", { class: "card-tools" });
    const note = make("button", { type: "button" }, "Add a note");
    const close = make("button", { type: "button" }, "Close");
    note.addEventListener("click", () => {
      if (is_narrow.matches) card.classList.remove("is-shown");
      by("note-text").scrollIntoView({ block: "center" });
      by("note-text").focus();
    });
    close.addEventListener("click", () => choose(null));
    tools.append(note, close);
    card.append(tools);
  }

  // ---- Search --------------------------------------------------------------------------------------------------

  const plain = text => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  const words_of = new Map([...cards].map(([id, card]) => [id, plain(card.dataset.words + " " + card.textContent)]));
  const MOST_HITS = 60;
  const search = () => {
    const wanted = plain(by("find").value).split(/\s+/).filter(word => word);
    const name_of = id => plain(cards.get(id).dataset.name);
    hits = wanted.length === 0 ? [] : [...cards.keys()].filter(id => wanted.every(word => words_of.get(id).includes(word)));
    // Those whose name begins so come first.
    hits.sort((a, b) => name_of(b).startsWith(wanted[0]) - name_of(a).startsWith(wanted[0]));
    const shown = hits.slice(0, MOST_HITS).map(id => {
      const card = cards.get(id);
      const button = make("button", { type: "button" });
      button.append(make("bdi", {}, card.dataset.name), make("small", {}, " " + card.querySelector("small").textContent + (card.dataset.side === "bottom" ? ", bottom" : "")));
      button.addEventListener("click", () => choose(id, { from_list: true }));
      const item = make("li", {});
      item.append(button);
      return item;
    });
    by("hits").replaceChildren(...shown);
    const more = hits.length > MOST_HITS ? `, the first ${MOST_HITS} are listed` : "";
    by("found").textContent = wanted.length === 0 ? "" : hits.length === 0 ? "nothing found" : `${hits.length} found${more}`;
    draw_overlay();
  };

  // ---- Measuring -----------------------------------------------------------------------------------------------

  const measure = { on: false, points: [] };
  const CORNERS = ".fill-pad-copper,.fill-body,.fill-sensitive-body,.line-board-edge,.line-missing-edge,.line-unknown-edge";
  const corner_lists = new Map();
  const corners = of => {
    if (!corner_lists.has(of)) {
      const points = [];
      for (const path of all(CORNERS, of.svg))
        for (const ring of path.getAttribute("d").split("M").slice(1)) {
          let x = 0, y = 0;
          const numbers = ring.match(/-?(\d+\.?\d*|\.\d+)/g).map(Number);
          for (let i = 0; i + 1 < numbers.length; i += 2) points.push([x += numbers[i], y += numbers[i + 1]]);
        }
      corner_lists.set(of, points);
    }
    return corner_lists.get(of);
  };
  // To the nearest corner of something drawn, where one is within a finger's reach.
  const snapped = point => {
    let best = point, least = 12 / px_per_mm();
    for (const corner of corners(map())) {
      const apart = Math.hypot(corner[0] - point[0], corner[1] - point[1]);
      if (apart < least) { least = apart; best = corner; }
    }
    return best;
  };
  const measured = () => {
    const [a, b] = measure.points;
    return Math.hypot(b[0] - a[0], b[1] - a[1]);
  };
  const in_mm = mm => mm.toFixed(mm < 10 ? 2 : 1) + " mm";
  const add_measure_point = point => {
    if (measure.points.length === 2) measure.points = [];
    measure.points.push(snapped(point));
    const within = body.dataset.uncertainty ? `, right within ${body.dataset.uncertainty} %` : "";
    say(measure.points.length === 1 ? "Now the second point." : in_mm(measured()) + within);
    draw_overlay();
  };
  const set_measuring = on => {
    measure.on = on;
    measure.points = [];
    by("measure").setAttribute("aria-pressed", on);
    say(on ? "Tap two points: the nearest corner is taken." : "");
    draw_overlay();
  };
  const draw_measure = () => {
    const m = map(), u = 1 / px_per_mm();
    for (const [x, y] of measure.points)
      draw("path", { class: "line-measure w2", d: `M${x - 6 * u} ${y}H${x + 6 * u}M${x} ${y - 6 * u}V${y + 6 * u}` }, m.overlay);
    if (measure.points.length < 2) return;
    const [a, b] = measure.points;
    draw("path", { class: "line-measure w2", d: `M${a[0]} ${a[1]}L${b[0]} ${b[1]}` }, m.overlay);
    const text = draw("text", { class: "text-label-measure halo", x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2 - 6 * u, "font-size": 14 * u, "text-anchor": "middle", id: "measured" }, m.overlay);
    text.textContent = in_mm(measured());
  };

  // ---- Notes ---------------------------------------------------------------------------------------------------

  const file = by("padchart-chart");
  const KEY = "padchart-notes-" + file.dataset.sha256;
  let about = null; // { target, side, at } of the note that is being written; null: the whole board
  let notes = [];
  let readings = [];
  let ticks = [];
  const written = () => notes.length + readings.length + ticks.length;
  let is_kept = false;
  let is_sent = true;

  const keep = () => {
    try {
      localStorage.setItem(KEY, JSON.stringify({ notes, readings, ticks, author: by("note-author").value }));
      is_kept = true;
    } catch (fault) { is_kept = false; }
    by("note-kept").textContent = written() === 0 ? "" : is_kept ? "Kept in this browser until you take them out." : "This browser keeps nothing: save it before you close the page.";
  };
  const restore = () => {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || "{}");
      [notes, readings, ticks] = [kept.notes, kept.readings, kept.ticks].map(list => Array.isArray(list) ? list : []);
      by("note-author").value = kept.author || "";
    } catch (fault) { notes = []; readings = []; ticks = []; }
  };
  const name_of = id => cards.has(id) ? cards.get(id).dataset.name : "";
  const length_unit = document.getElementById("measure") ? "mm" : "units"; // nothing is measured without a scale
  const place_in_words = ({ side, at }) => `${side} side, x ${at[0].toFixed(1)} y ${at[1].toFixed(1)} ${length_unit}`;
  const tell_about = () => {
    by("note-about").textContent = !about ? "About the whole board. Tap a part or a place to speak of that."
      : about.target ? `About ${name_of(about.target)}.` : `About a place: ${place_in_words(about)}.`;
  };
  const today = () => {
    const now = new Date();
    const two = number => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  };
  const new_id = kind => {
    const letters = "0123456789abcdefghjkmnpqrstvwxyz";
    return kind + "-" + [...crypto.getRandomValues(new Uint8Array(10))].map(byte => letters[byte & 31]).join("");
  };
  const middle_of_board = () => {
    const [x, y, w, h] = map().full;
    return [(x + w / 2) * sign(), y + h / 2];
  };
  const add_note = () => {
    const text = by("note-text").value.trim();
    if (!text) { say("Write the note first."); by("note-text").focus(); return; }
    const author = author_or_ask();
    if (!author) return;
    notes.push({ id: new_id("note"), text, ...place_about(), author, date: today() });
    by("note-text").value = "";
    written_more("Noted");
  };
  const author_or_ask = () => {
    const author = by("note-author").value.trim();
    if (!author) { say("Say who you are first: what nobody signs helps nobody."); by("note-author").focus(); }
    return author;
  };
  const place_about = () => {
    const where = about || { target: "", side: side(), at: middle_of_board() };
    const place = { side: where.side, at_mm: where.at.map(v => +v.toFixed(3)) };
    return where.target ? { ...place, target: where.target } : place;
  };
  const written_more = what => {
    is_sent = false;
    say(`${what}, ${written()} to send back.`);
    show_notes();
  };

  // A reading: a number, or one of the words that are no number.
  const READ_WORDS = { ol: "OL", short: "short", unstable: "unstable" };
  const read_value = text => {
    const word = READ_WORDS[text.toLowerCase()];
    if (word) return word;
    const number = text.replace(",", ".");
    return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(number) ? +number : null;
  };
  const add_reading = () => {
    const of = name => by("reading-" + name).value.trim();
    const value = read_value(of("value"));
    if (value === null) { say("The value is a number, or OL, short, unstable."); by("reading-value").focus(); return; }
    const author = author_or_ask();
    if (!author) return;
    const reading = { id: new_id("reading"), quantity: of("quantity"), value, unit: of("unit"), ...place_about() };
    for (const name of ["pad", "meter"]) if (of(name)) reading[name] = of(name);
    for (const name of ["leads", "power"]) if (of(name) !== "not-stated") reading[name] = of(name);
    reading.reference = of("reference");
    readings.push({ ...reading, date: today(), note: `read by ${author}` });
    by("reading-value").value = "";
    by("reading-pad").value = "";
    written_more("Reading taken down");
  };

  // Lines of the list after rework. What the chart has ticked off already cannot be changed here.
  const checks = all(".checklist input");
  const is_line = (tick, box) => tick.task === box.dataset.task && (tick.target || "") === box.dataset.target &&
    (tick.task !== "own" || tick.id === box.dataset.tick);
  const line_words = tick => { const box = checks.find(one => is_line(tick, one)); return box ? box.dataset.words : tick.task; };
  const tick_off = box => {
    if (!box.checked) {
      ticks = ticks.filter(tick => !is_line(tick, box));
      written_more("Taken out");
      return;
    }
    const author = author_or_ask();
    if (!author) { box.checked = false; return; }
    const tick = { id: box.dataset.tick || new_id("tick"), task: box.dataset.task, done: true, by: author, date: today() };
    ticks.push(box.dataset.target ? { ...tick, target: box.dataset.target } : tick);
    written_more("Ticked off");
  };
  const show_checks = () => {
    for (const box of checks) if (!box.disabled) box.checked = ticks.some(tick => is_line(tick, box));
  };
  const as_file = () => JSON.stringify({
    format: "padchart-notes", version: readings.length + ticks.length > 0 ? 2 : 1, chart_title: body.dataset.chartTitle, chart_board: body.dataset.chartBoard,
    chart_sha256: file.dataset.sha256, author: by("note-author").value.trim(), notes, ...(readings.length > 0 ? { readings } : {}), ...(ticks.length > 0 ? { ticks } : {})
  }, null, 2) + "\n";
  const place_of = thing => thing.target ? name_of(thing.target) : place_in_words({ side: thing.side, at: thing.at_mm });
  const spoken_reading = r => `${place_of(r)}${r.pad ? ` pad ${r.pad}` : ""}: ${r.quantity} ${r.value} ${r.unit} against ${r.reference} (${r.note}, ${r.date})`;
  const spoken_tick = tick => `Done: ${line_words(tick)} (${tick.by}, ${tick.date})`;
  const spoken = note => `${note.target ? name_of(note.target) : place_in_words({ side: note.side, at: note.at_mm })}: ${note.text} (${note.author}, ${note.date})`;
  // Readable for people, and below it the file in letters that no mail program alters.
  const as_letters = () => {
    let bytes = "";
    for (const byte of new TextEncoder().encode(as_file())) bytes += String.fromCharCode(byte);
    const lines = btoa(bytes).match(/.{1,64}/g);
    return [`Notes on ${document.title}:`, ...all_spoken().map(text => "- " + text), "", "-----BEGIN PADCHART NOTES-----", ...lines, "-----END PADCHART NOTES-----", ""].join("\n");
  };
  const all_spoken = () => [...notes.map(spoken), ...readings.map(spoken_reading), ...ticks.map(spoken_tick)];
  const show_notes = () => {
    const entry = list => (thing, i) => {
      const text = list === notes ? spoken(thing) : list === readings ? spoken_reading(thing) : spoken_tick(thing);
      const item = make("li", {}, text + " ");
      const button = make("button", { type: "button", "aria-label": `Take out: ${text}` }, "Take out");
      button.addEventListener("click", () => { list.splice(i, 1); show_notes(); });
      item.append(button);
      return item;
    };
    by("note-list").replaceChildren(...[notes, readings, ticks].flatMap(list => list.map(entry(list))));
    by("note-send").hidden = written() === 0;
    by("note-letters").value = written() === 0 ? "" : as_letters();
    show_checks();
    keep();
    draw_overlay();
  };
  const notes_name = () => file.dataset.name.replace(/(\.chart)?\.json$/, "") + ".notes.json";
  const draw_notes = () => {
    for (const note of [...notes, ...readings]) {
      if (note.side !== side()) continue;
      const at = draw("g", { transform: `translate(${note.at_mm[0] * sign()} ${note.at_mm[1]})` }, map().overlay);
      draw("use", { class: "sign sign-badge-note z18", href: "#sign-note" }, at);
    }
  };

  // ---- Files ---------------------------------------------------------------------------------------------------

  const save = (name, data, type) => {
    const url = URL.createObjectURL(new Blob([data], { type }));
    const link = make("a", { href: url, download: name });
    body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 10000);
    say(`Saved as ${name}, where this browser saves downloads.`);
  };
  const chart_bytes = () => Uint8Array.from(atob(file.textContent.replace(/\s/g, "")), c => c.charCodeAt(0));
  const copy = async () => {
    const field = by("note-letters");
    try {
      await navigator.clipboard.writeText(field.value);
    } catch (fault) {
      field.select();
      if (!document.execCommand("copy")) { say("This browser does not copy by itself: the text is marked, copy it by hand."); return; }
    }
    is_sent = true;
    say("Copied: paste it into a mail.");
  };
  const shared_file = () => new File([as_file()], notes_name(), { type: "application/json" });
  const can_share = () => { try { return navigator.canShare({ files: [shared_file()] }); } catch (fault) { return false; } };

  // ---- What is drawn over the map ------------------------------------------------------------------------------

  const FRAMED = ["part", "keep-out", "shield"];
  function draw_overlay() {
    const m = map();
    m.overlay.replaceChildren();
    for (const id of hits.slice(0, MOST_HITS)) {
      const { kind, side: of } = cards.get(id).dataset;
      if (id !== chosen && of === side() && FRAMED.includes(kind)) add_frame(id, "hover", 4);
    }
    if (chosen) add_frame(chosen, "selection", 5);
    draw_measure();
    draw_notes();
  }

  // ---- Hands: pointer, wheel, keys -----------------------------------------------------------------------------

  // What lies under the finger, or else the nearest thing round it.
  const thing_at = (x, y) => {
    for (const reach of [0, 6, 12])
      for (let i = 0; i < (reach ? 8 : 1); ++i) {
        const angle = i * Math.PI / 4;
        const element = document.elementFromPoint(x + reach * Math.cos(angle), y + reach * Math.sin(angle));
        const group = element && element.closest(".picture [data-id]");
        if (group && cards.has(group.dataset.id)) return group.dataset.id;
      }
    return null;
  };
  const tap = (x, y) => {
    const point = place_at(x, y);
    if (measure.on) { add_measure_point(point); return; }
    const id = thing_at(x, y);
    choose(id);
    if (!id) {
      about = { target: "", side: side(), at: [point[0] * sign(), point[1]] };
      tell_about();
    }
  };
  for (const { svg } of maps.values()) {
    const fingers = new Map();
    let moved = 0;
    svg.addEventListener("pointerdown", event => {
      svg.setPointerCapture(event.pointerId);
      fingers.set(event.pointerId, [event.clientX, event.clientY]);
      if (fingers.size === 1) moved = 0;
    });
    svg.addEventListener("pointermove", event => {
      const before = fingers.get(event.pointerId);
      if (!before) return;
      const now = [event.clientX, event.clientY];
      moved += Math.hypot(now[0] - before[0], now[1] - before[1]);
      if (fingers.size === 1 && moved > 6) {
        const k = 1 / px_per_mm();
        pan((before[0] - now[0]) * k, (before[1] - now[1]) * k);
      } else if (fingers.size === 2) {
        const other = [...fingers].find(([id]) => id !== event.pointerId)[1];
        const apart = point => Math.hypot(point[0] - other[0], point[1] - other[1]);
        if (apart(before) > 0) zoom(apart(now) / apart(before), place_at((now[0] + other[0]) / 2, (now[1] + other[1]) / 2));
      }
      fingers.set(event.pointerId, now);
    });
    const lift = event => {
      const was_one = fingers.size === 1;
      if (fingers.delete(event.pointerId) && event.type === "pointerup" && was_one && moved <= 6) tap(event.clientX, event.clientY);
      if (!was_one) moved = 100; // the second finger of a pinch is no tap
    };
    svg.addEventListener("pointerup", lift);
    svg.addEventListener("pointercancel", lift);
    svg.addEventListener("wheel", event => {
      event.preventDefault();
      zoom(Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0015)), place_at(event.clientX, event.clientY));
    }, { passive: false });
    svg.addEventListener("keydown", event => {
      const [, , w, h] = map().view;
      const step = { ArrowLeft: [-w / 10, 0], ArrowRight: [w / 10, 0], ArrowUp: [0, -h / 10], ArrowDown: [0, h / 10] }[event.key];
      const box = svg.getBoundingClientRect();
      if (step) pan(...step);
      else if (event.key === "+" || event.key === "=") zoom(1.3);
      else if (event.key === "-") zoom(1 / 1.3);
      else if (event.key === "0") { map().view = [...map().full]; show_view(); }
      else if (event.key === "Enter") tap(box.left + box.width / 2, box.top + box.height / 2);
      else return;
      event.preventDefault();
    });
  }

  const on = (id, event, action) => { if (by(id)) by(id).addEventListener(event, action); };
  for (const button of all("[data-stage-button]")) button.addEventListener("click", () => show_stage(button.dataset.stageButton));
  on("flip", "click", () => flip_to(side() === "top" ? "bottom" : "top"));
  on("photo", "click", () => {
    const is_on = body.dataset.photo === "off";
    body.dataset.photo = is_on ? "on" : "off";
    by("photo").setAttribute("aria-pressed", is_on);
    say(is_on ? "The photo lies below, laid flat on the board: what stands up leans." : "The drawing alone.");
  });
  on("measure", "click", () => set_measuring(!measure.on));
  on("nearer", "click", () => zoom(1.5));
  on("farther", "click", () => zoom(1 / 1.5));
  on("whole", "click", () => { map().view = [...map().full]; show_view(); });
  on("print", "click", () => window.print());
  on("find", "input", search);
  on("find", "keydown", event => { if (event.key === "Enter" && hits.length > 0) choose(hits[0], { from_list: true }); });
  on("note-add", "click", add_note);
  on("note-author", "change", () => show_notes());
  const UNITS = { "diode-drop": "V", voltage: "V", current: "A", capacitance: "F", temperature: "\u00b0C", continuity: "" };
  on("reading-quantity", "change", () => { by("reading-unit").value = UNITS[by("reading-quantity").value] ?? "ohm"; });
  on("reading-add", "click", add_reading);
  for (const box of checks) box.addEventListener("change", () => tick_off(box));
  on("note-file", "click", () => { is_sent = true; save(notes_name(), as_file(), "application/json"); });
  on("note-copy", "click", copy);
  on("note-share", "click", () => navigator.share({ files: [shared_file()] }).then(() => { is_sent = true; }, () => {}));
  on("chart-save", "click", () => save(file.dataset.name, chart_bytes(), "application/json"));
  document.addEventListener("keydown", event => {
    if (event.key !== "Escape") return;
    if (measure.on) set_measuring(false);
    else choose(null);
  });
  window.addEventListener("beforeunload", event => { if (written() > 0 && !is_sent && !is_kept) event.preventDefault(); });
  window.addEventListener("resize", () => show_view());

  // On paper both sides are shown whole, whatever is looked at on the screen.
  let views = null;
  const fold = open => { for (const part of all(".folds")) part.open = open; };
  window.addEventListener("beforeprint", () => {
    fold(true);
    views = [...maps.values()].map(m => m.view);
    for (const m of maps.values()) {
      m.overlay.replaceChildren();
      m.svg.setAttribute("viewBox", m.full.join(" "));
    }
    apply_scale(660 / map().full[2]);
  });
  window.addEventListener("afterprint", () => {
    [...maps.values()].forEach((m, i) => { m.view = views[i]; m.svg.setAttribute("viewBox", m.view.join(" ")); });
    fold(!is_narrow.matches);
    show_view();
  });

  fold(!is_narrow.matches);
  restore();
  by("note-share").hidden = !can_share();
  show_notes();
  tell_about();
  show_view();
})();
