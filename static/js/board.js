/* The setup board: rings over the picture move parts by pointer and by arrow keys; boxes, words and picture follow.
   The picture itself is drawn by the server from the same numbers, so there is one drawing and not two. */

const SVG = "http://www.w3.org/2000/svg";
const form = document.getElementById("board-form");
const left = document.getElementById("board").dataset.hand === "left";
const boxes = new Map([...form.querySelectorAll("input[data-part]")].map((box) => [box.dataset.part, box]));
const USUAL = { toe_ball_cm: 42, lead_weight_pct: 50, ball_position_cm: 8, lead_flare_deg: 20, trail_flare_deg: 10 };
const HEEL_CM = 7.62;
const rings = [];
let dragging = null;

/* Numbers --------------------------------------------------------------------------------------- */

const has = (part) => boxes.has(part);
const shoulders = () => Number(picture("plan").dataset.shoulderWidthCm);

function valueOf(part) {
  const text = boxes.get(part)?.dataset.value;
  if (text) return Number(text);
  return part === "stance_width_ratio" ? 38 / shoulders() : USUAL[part] ?? 0;
}

const written = (value, digits) => {
  const text = Math.abs(value).toFixed(digits).replace(/\.?0+$/, digits ? "" : "$&") || "0";
  return (value < 0 && Number(text) !== 0 ? "−" : "") + text;
};

function set(part, value) {
  const box = boxes.get(part);
  if (!box) return;
  const within = Math.min(Number(box.dataset.upper), Math.max(Number(box.dataset.lower), value));
  box.dataset.value = String(Math.round(within * 1e4) / 1e4);
  box.value = written(within * Number(box.dataset.factor), Number(box.dataset.digits)) + box.dataset.suffix;
  changed();
}

/** One press of an arrow key, landing on whole steps so that presses can be counted. */
function step(part, presses) {
  const size = Number(boxes.get(part).dataset.step);
  set(part, Math.round((valueOf(part) + presses * size) / size) * size);
}

/* The picture follows ------------------------------------------------------------------------------ */

const picture = (sheet) => document.querySelector(`#board-${sheet}-box svg`);
let asking = false;
let askAgain = false;

function changed() {
  document.getElementById("board-unsaved").hidden = false;
  label();
  refresh();
}

/** Ask for the picture of the numbers in the boxes: one request at a time, the last numbers win. */
async function refresh() {
  if (asking) { askAgain = true; return; }
  asking = true;
  const data = new URLSearchParams(new FormData(form));
  data.delete("csrfmiddlewaretoken");
  try {
    const answer = await fetch(`${form.getAttribute("action")}?${data}`, { headers: { "HX-Request": "true" } });
    if (answer.ok || answer.status === 422) replace(await answer.text());
  } catch { /* The server is away: the boxes keep what was moved. */ }
  asking = false;
  if (askAgain) { askAgain = false; refresh(); }
}

function replace(text) {
  const found = new DOMParser().parseFromString(text, "text/html");
  for (const fresh of found.body.querySelectorAll(":scope > [id]")) {
    document.getElementById(fresh.id)?.replaceWith(fresh);
    // What was typed by hand, with its own unit, is read by the server: take its number over.
    const box = boxes.get(fresh.id.replace(/^note-/, ""));
    if (box && document.activeElement === box) box.dataset.value = fresh.dataset.value;
  }
  place();
  label();
}

/* Where things are --------------------------------------------------------------------------------- */

const side = left ? -1 : 1;
const number = (element, name) => Number(element.getAttribute(name));

/** The player's frame: u away from the target, v toward the ball, cm. */
function ground(point) {
  const { scale, originX, originY } = picture("plan").dataset;
  return { u: side * (point.x - originX) / scale, v: (originY - point.y) / scale };
}

function pointIn(sheet, event) {
  const layer = document.querySelector(`[data-sheet="${sheet}"] .board-rings`);
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(layer.getScreenCTM().inverse());
  return { x: at.x, y: at.y };
}

const part = (id) => picture("plan").querySelector(`#board-plan-${id}`) ?? picture("front").querySelector(`#board-${id}`);

function end(line, which) {
  return { x: number(line, `x${which}`), y: number(line, `y${which}`) };
}

/** A place that the picture from the front tells of itself. */
function anchor(name) {
  const [x, y] = picture("front").dataset[name].split(" ").map(Number);
  return { x, y };
}

const middle = (line) => ({ x: (number(line, "x1") + number(line, "x2")) / 2, y: (number(line, "y1") + number(line, "y2")) / 2 });

function row(name) {
  const group = part(name);
  return group.querySelector(".now line") ?? group.querySelector("line.edge");
}

function foot(name, share) {
  const box = part(`now-${name}-foot`).getBBox();
  return { x: box.x + box.width / 2, y: box.y + box.height * share };
}

const ball = () => ({ x: number(part("now-ball"), "cx"), y: number(part("now-ball"), "cy") });

/** On the line of the face, beyond the ball's own ring. */
function faceAt() {
  const reach = 14 * picture("plan").dataset.scale;
  const turn = valueOf("face_aim_deg") * Math.PI / 180;
  return { x: ball().x + side * reach * Math.sin(turn), y: ball().y - reach * Math.cos(turn) };
}

/* The rings ------------------------------------------------------------------------------------------ */

const turnedBy = (about, from, to) => {
  const angle = (point) => Math.atan2(-(point.y - about.y), side * (point.x - about.x));
  const turn = angle(to) - angle(from);
  return Math.atan2(Math.sin(turn), Math.cos(turn)) * 180 / Math.PI;
};

/** A part that turns: ``sense`` +1 where a turn against the clock, in the player's frame, makes it more. */
const turning = (key, sense, at, about, extra = {}) => ({
  parts: [key], sheet: "plan", at, ...extra,
  grab: () => ({ from: at(), about: about(), value: valueOf(key) }),
  drag: (start, point) => set(key, start.value + sense * turnedBy(start.about, start.from, point)),
  keys: { ArrowUp: [[key, 1]], ArrowRight: [[key, 1]], ArrowDown: [[key, -1]], ArrowLeft: [[key, -1]] },
});

const sideways = (right) => ({ ArrowRight: right(side), ArrowLeft: right(-side) });

const ALL = [
  // Up and down is the way from the toes; a hand that only slides the ball along does not set it by chance.
  { parts: ["ball_position_cm", "toe_ball_cm"], name: "Ball", sheet: "plan", at: ball,
    grab: () => ({ value: valueOf("ball_position_cm"), away: valueOf("toe_ball_cm"), moved: false }),
    drag: (start, point, moved) => {
      set("ball_position_cm", start.value + moved.u);
      start.moved ||= Math.abs(moved.v) > 3;
      if (start.moved) set("toe_ball_cm", start.away + moved.v);
    },
    keys: { ...sideways((way) => [["ball_position_cm", way]]), ArrowUp: [["toe_ball_cm", 1]], ArrowDown: [["toe_ball_cm", -1]] } },
  { parts: ["stance_width_ratio", "feet_deg"], name: "Trail foot", sheet: "plan", at: () => foot("trail", 0.75),
    grab: () => ({ width: valueOf("stance_width_ratio") * shoulders(), turn: valueOf("feet_deg") }),
    drag: (start, point, moved) => {
      const span = start.width + HEEL_CM;
      const back = Math.tan(start.turn * Math.PI / 180) * span - moved.v;
      set("stance_width_ratio", (start.width + moved.u) / shoulders());
      set("feet_deg", Math.atan2(back, Math.max(span + moved.u, 1)) * 180 / Math.PI);
    },
    keys: { ...sideways((way) => [["stance_width_ratio", way]]), ArrowUp: [["feet_deg", -1]], ArrowDown: [["feet_deg", 1]] } },
  // The lead foot moves, ball and trail foot stay: the stance and the way from heel to ball change together.
  { parts: ["stance_width_ratio", "ball_position_cm"], name: "Lead foot", sheet: "plan", at: () => foot("lead", 0.75),
    grab: () => ({ width: valueOf("stance_width_ratio") * shoulders(), ball: valueOf("ball_position_cm") }),
    drag: (start, point, moved) => {
      set("stance_width_ratio", (start.width - moved.u) / shoulders());
      set("ball_position_cm", start.ball - moved.u);
    },
    press: (key) => {
      if (!["ArrowLeft", "ArrowRight"].includes(key)) return;
      const wider = (key === "ArrowLeft" ? 1 : -1) * side;
      const before = valueOf("stance_width_ratio");
      step("stance_width_ratio", wider);
      set("ball_position_cm", valueOf("ball_position_cm") + (valueOf("stance_width_ratio") - before) * shoulders());
    } },
  turning("feet_deg", -1, () => end(row("feet"), 1), () => middle(row("feet"))),
  turning("hips_deg", -1, () => end(row("hips"), 2), () => middle(row("hips"))),
  turning("shoulders_deg", -1, () => end(row("shoulders"), 1), () => middle(row("shoulders"))),
  turning("face_aim_deg", -1, faceAt, ball),
  turning("lead_flare_deg", 1, () => foot("lead", 0.05), () => foot("lead", 0.85)),
  turning("trail_flare_deg", -1, () => foot("trail", 0.05), () => foot("trail", 0.85)),
  // From the front the picture is turned round: the trail side lies where the target was.
  turning("shoulder_tilt_deg", 1, () => end(part("front-shoulders"), 2), () => middle(part("front-shoulders")), { sheet: "front" }),
  { parts: ["handle_ahead_cm"], sheet: "front", at: () => end(part("front-shaft"), 1),
    grab: () => ({ value: valueOf("handle_ahead_cm") }),
    drag: (start, point, moved) => set("handle_ahead_cm", start.value + side * moved.x / Number(picture("front").dataset.scale)),
    keys: { ...sideways((way) => [["handle_ahead_cm", way]]), ArrowUp: [["handle_ahead_cm", 1]], ArrowDown: [["handle_ahead_cm", -1]] } },
  turning("trunk_tilt_deg", 1, () => anchor("neck"), () => anchor("hips"), { sheet: "front" }),
  { parts: ["lead_weight_pct"], sheet: "front", at: () => anchor("weight"),
    grab: () => ({ value: valueOf("lead_weight_pct") }),
    drag: (start, point, moved) => set("lead_weight_pct", start.value + side * moved.x / Number(picture("front").dataset.weightSpan) * 100),
    keys: { ...sideways((way) => [["lead_weight_pct", way]]), ArrowUp: [["lead_weight_pct", 1]], ArrowDown: [["lead_weight_pct", -1]] } },
  { parts: ["tee_height_mm"], sheet: "front", at: () => anchor("tee"),
    grab: () => ({ value: valueOf("tee_height_mm") }),
    drag: (start, point, moved) => set("tee_height_mm", start.value - moved.y / Number(picture("front").dataset.teeScale)),
    keys: { ArrowUp: [["tee_height_mm", 1]], ArrowRight: [["tee_height_mm", 1]], ArrowDown: [["tee_height_mm", -1]], ArrowLeft: [["tee_height_mm", -1]] } },
].filter((ring) => ring.parts.every(has));

function make(name, attributes) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

function layer(sheet) {
  const made = make("svg", { class: "board-rings", role: "group", "aria-label": sheet === "plan" ? "Parts to move, from above" : "Parts to move, from the front" });
  made.setAttribute("viewBox", picture(sheet).getAttribute("viewBox"));
  document.querySelector(`[data-sheet="${sheet}"]`).append(made);
  return made;
}

function label() {
  for (const { ring, mark } of rings) {
    const said = ring.parts.map((key) => {
      const words = document.querySelector(`#note-${key} .board-said`)?.textContent;
      return `${boxes.get(key).dataset.label} ${boxes.get(key).value || "not looked at"}${words ? `, ${words}` : ""}`;
    }).join("; ");
    mark.setAttribute("aria-valuetext", said);
    mark.setAttribute("aria-valuenow", valueOf(ring.parts[0]));
  }
}

function place() {
  for (const sheet of ["plan", "front"]) {
    document.querySelector(`[data-sheet="${sheet}"] .board-rings`).setAttribute("viewBox", picture(sheet).getAttribute("viewBox"));
  }
  for (const { ring, mark } of rings) {
    if (dragging?.mark === mark) continue;
    const { x, y } = ring.at();
    mark.setAttribute("transform", `translate(${x} ${y})`);
  }
}

function start(ring, mark, event) {
  event.preventDefault();
  mark.focus();
  mark.setPointerCapture(event.pointerId);
  dragging = { ring, mark, first: pointIn(ring.sheet, event), start: ring.grab() };
}

function move(event) {
  if (!dragging) return;
  const { ring, mark, first } = dragging;
  const point = pointIn(ring.sheet, event);
  const from = ground(first);
  const to = ground(point);
  mark.setAttribute("transform", `translate(${point.x} ${point.y})`);
  ring.drag(dragging.start, point, { u: to.u - from.u, v: to.v - from.v, x: point.x - first.x, y: point.y - first.y });
}

function drop() {
  if (!dragging) return;
  dragging = null;
  place();
}

function press(ring, event) {
  const moves = ring.keys?.[event.key];
  if (!moves && !(ring.press && event.key.startsWith("Arrow"))) return;
  event.preventDefault();
  if (ring.press) ring.press(event.key);
  else for (const [key, presses] of moves) step(key, presses);
}

const layers = { plan: layer("plan"), front: layer("front") };
for (const ring of ALL) {
  const box = boxes.get(ring.parts[0]);
  const mark = make("g", { class: "ring", tabindex: "0", role: "slider", "aria-label": ring.name ?? box.dataset.label, "data-ring": ring.name ?? ring.parts[0], "aria-valuemin": box.dataset.lower, "aria-valuemax": box.dataset.upper });
  mark.append(make("circle", { r: 23, class: "ring-reach" }), make("circle", { r: 11, class: "ring-edge" }));
  mark.addEventListener("pointerdown", (event) => start(ring, mark, event));
  mark.addEventListener("pointermove", move);
  mark.addEventListener("pointerup", drop);
  mark.addEventListener("pointercancel", drop);
  mark.addEventListener("keydown", (event) => press(ring, event));
  layers[ring.sheet].append(mark);
  rings.push({ ring, mark });
}
for (const [key, box] of boxes) {
  box.addEventListener("change", changed);
  box.addEventListener("keydown", (event) => {
    if (!["ArrowUp", "ArrowDown"].includes(event.key)) return;
    event.preventDefault();
    step(key, event.key === "ArrowUp" ? 1 : -1);
  });
}
for (const words of document.querySelectorAll(".board-how")) words.hidden = false;
place();
label();
