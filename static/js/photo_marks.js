/* The photo on the page: it is drawn here and stays here unless it is to be kept. Every place on it can be clicked,
   chosen with Tab and nudged with the arrow keys under a magnifier. Used by every page that measures a photo. */

import { focalOf } from "./photo_focal.js";

const SVG = "http://www.w3.org/2000/svg";
const GLASS_PX = 28;
const form = document.getElementById("photo-form");
const sheet = document.getElementById("photo-sheet");
const canvas = document.getElementById("photo-canvas");
const layer = document.getElementById("photo-marks");
const glass = document.getElementById("photo-glass");
const buttons = new Map([...document.querySelectorAll("[data-mark]")].map((button) => [button.dataset.mark, button]));
const points = new Map();
const marks = new Map();
const nudged = new Set();
const hooks = { kind: () => "", read: () => {} };
let active = "";
let waiting = null;
let asked = 0;

/* The picture ---------------------------------------------------------------------------------------- */

function show(source, width, height) {
  canvas.width = width;
  canvas.height = height;
  canvas.getContext("2d").drawImage(source, 0, 0);
  layer.setAttribute("viewBox", `0 0 ${width} ${height}`);
  form.elements.width.value = width;
  form.elements.height.value = height;
  sheet.hidden = false;
  for (const name of [...points.keys()]) remove(name);
  answer("");
  choose(names()[0]);
}

async function open(file) {
  try {
    const found = focalOf(await file.slice(0, 262144).arrayBuffer());
    if (found && form.elements.focal) form.elements.focal.value = found;
    const bitmap = await createImageBitmap(file);
    show(bitmap, bitmap.width, bitmap.height);
  } catch {
    say("This file could not be opened as a picture; expected a JPEG or PNG.");
  }
}

async function openCamera() {
  const video = document.getElementById("camera-video");
  try {
    video.srcObject = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 3840 } } });
    document.getElementById("camera").hidden = false;
    await video.play();
  } catch {
    say("The camera could not be opened. Take the photo with a phone and choose the file.");
  }
}

function take() {
  const video = document.getElementById("camera-video");
  show(video, video.videoWidth, video.videoHeight);
  for (const track of video.srcObject.getTracks()) track.stop();
  video.srcObject = null;
  document.getElementById("camera").hidden = true;
}

/* Marks ------------------------------------------------------------------------------------------------ */

const inUse = (name) => !buttons.get(name).dataset.kind || buttons.get(name).dataset.kind.split(" ").includes(hooks.kind());
const names = () => [...buttons.keys()].filter(inUse);
const wanted = () => names().filter((name) => !("optional" in buttons.get(name).dataset));
const perCss = () => canvas.width / Math.max(canvas.clientWidth, 1);
const say = (words) => { document.getElementById("photo-next").textContent = words; };

function words(name) {
  const button = buttons.get(name);
  return (button.querySelector(`[data-for="${hooks.kind()}"]`) ?? button).textContent.trim();
}

function make(name, attributes, ...children) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

/** A mark is drawn in CSS pixels, whatever the photo's own size. */
function draw(name) {
  const { x, y } = points.get(name);
  if (!marks.has(name)) {
    const mark = make("g", { class: "mark", tabindex: "0", role: "button", "data-place": name },
      make("circle", { r: 22, class: "ring-reach" }), make("circle", { r: 9, class: "mark-under" }),
      make("circle", { r: 9, class: "mark-edge" }), make("circle", { r: 1, class: "mark-middle" }),
      make("text", { x: 12, y: -10, class: "mark-name" }, buttons.get(name).dataset.short));
    mark.addEventListener("focus", () => choose(name));
    mark.addEventListener("keydown", (event) => nudge(name, event));
    layer.append(mark);
    marks.set(name, mark);
  }
  const mark = marks.get(name);
  mark.setAttribute("transform", `translate(${x} ${y}) scale(${perCss()})`);
  mark.setAttribute("aria-label", `${words(name)}, across ${x.toFixed(0)}, down ${y.toFixed(0)}. Arrow keys move it.`);
}

function put(name, x, y) {
  points.set(name, {
    x: Math.min(canvas.width, Math.max(0, x)), y: Math.min(canvas.height, Math.max(0, y)),
  });
  draw(name);
  buttons.get(name).classList.add("is-set");
  magnify(name);
  clearTimeout(waiting);
  waiting = setTimeout(hooks.read, 150);
}

function remove(name) {
  points.delete(name);
  nudged.delete(name);
  marks.get(name)?.remove();
  marks.delete(name);
  buttons.get(name).classList.remove("is-set");
}

function choose(name) {
  active = name;
  for (const [other, button] of buttons) button.toggleAttribute("aria-current", other === name);
  for (const [other, mark] of marks) mark.classList.toggle("is-chosen", other === name);
  if (points.has(name)) magnify(name); else glass.hidden = true;
  say(points.has(name) ? `${words(name)}. Arrow keys move it by one pixel, with Shift by ten.` : `Click: ${words(name)}.`);
}

function next() {
  const open = wanted().find((name) => !points.has(name));
  if (open) choose(open);
  else say("All places are clicked. Drag a mark, or choose it and move it with the arrow keys.");
}

function nudge(name, event) {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  if (event.key === "Delete") { remove(name); buttons.get(name).focus(); choose(name); hooks.read(); }
  if (!way) return;
  event.preventDefault();
  const size = event.shiftKey ? 10 : 1;
  const { x, y } = points.get(name);
  nudged.add(name);
  put(name, x + way[0] * size, y + way[1] * size);
}

/** The magnifier stands in the corner away from the mark. */
function magnify(name) {
  const { x, y } = points.get(name);
  const pen = glass.getContext("2d");
  const half = GLASS_PX * Math.max(1, canvas.width / 3000) / 2;
  pen.imageSmoothingEnabled = false;
  pen.fillRect(0, 0, glass.width, glass.height);
  pen.drawImage(canvas, x - half, y - half, 2 * half, 2 * half, 0, 0, glass.width, glass.height);
  for (const [colour, width] of [["#fff", 5], ["#000", 2]]) {
    pen.strokeStyle = colour;
    pen.lineWidth = width;
    pen.beginPath();
    const middle = glass.width / 2;
    for (const [a, b] of [[0, middle - 14], [middle + 14, glass.width]]) {
      pen.moveTo(a, middle); pen.lineTo(b, middle);
      pen.moveTo(middle, a); pen.lineTo(middle, b);
    }
    pen.stroke();
  }
  glass.classList.toggle("is-right", x < canvas.width / 2);
  glass.hidden = false;
}

/* Clicking and dragging ---------------------------------------------------------------------------------- */

function at(event) {
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(layer.getScreenCTM().inverse());
  return { x: point.x, y: point.y };
}

let held = null;

layer.addEventListener("pointerdown", (event) => {
  event.preventDefault();
  const mark = event.target.closest(".mark");
  const here = at(event);
  // A place that is still to be clicked may lie close to another mark: then the click is meant for it.
  const name = mark && (points.has(active) || !inUse(active)) ? mark.dataset.place : active;
  const fresh = !points.has(name);
  const from = fresh ? here : points.get(name);
  if (!fresh && !mark) return;
  held = { name, fresh, dx: from.x - here.x, dy: from.y - here.y };
  if (fresh) put(name, here.x, here.y);
  choose(name);
  layer.setPointerCapture(event.pointerId);
});
layer.addEventListener("pointermove", (event) => {
  if (!held) return;
  const here = at(event);
  put(held.name, here.x + held.dx, here.y + held.dy);
});
layer.addEventListener("pointerup", () => {
  if (!held) return;
  const { name, fresh } = held;
  held = null;
  marks.get(name).focus({ preventScroll: true });
  if (fresh) next();
});
layer.addEventListener("pointercancel", () => { held = null; });

/* Asking --------------------------------------------------------------------------------------------------- */

/** Show the server's words; return them, for what else they carry. */
export function answer(text) {
  const found = new DOMParser().parseFromString(text, "text/html").getElementById("photo-answer");
  const old = document.getElementById("photo-answer");
  if (found) old.replaceWith(found); else old.replaceChildren();
  hooks.answered?.(found);
}

/** Ask for the numbers; only the last question's answer is shown. */
export async function ask(places) {
  if (sheet.hidden || wanted().some((name) => !points.has(name))) return answer("");
  form.elements.points.value = JSON.stringify(places);
  // A click is no finer than a pixel of the screen; a mark nudged under the magnifier is.
  form.elements.reach.value = wanted().every((name) => nudged.has(name)) ? 0 : perCss();
  const mine = asked += 1;
  const data = new FormData(form);
  data.delete("keep");
  try {
    const response = await fetch(form.getAttribute("action"), { method: "POST", body: new URLSearchParams(data), headers: { "HX-Request": "true" } });
    const text = await response.text();
    if (mine === asked && (response.ok || response.status === 422)) answer(text);
  } catch {
    say("The server did not answer. The marks are kept; move one to try again.");
  }
  return undefined;
}

/** Where the clicked places of a group lie, or of every place that is in use. */
export const list = (start = "") => names().filter((name) => name.startsWith(start) && points.has(name))
  .map((name) => [points.get(name).x, points.get(name).y]);

export const placed = () => Object.fromEntries(names().filter((name) => points.has(name)).map((name) => [name, [points.get(name).x, points.get(name).y]]));

/** Another set of places is wanted: hide the others, drop their marks. */
export function changeKind() {
  for (const [name, button] of buttons) {
    button.closest("li").hidden = !inUse(name);
    for (const text of button.querySelectorAll("[data-for]")) text.hidden = text.dataset.for !== hooks.kind();
    if (!inUse(name)) remove(name);
  }
  if (sheet.hidden) return;
  for (const name of points.keys()) draw(name);
  next();
  hooks.read();
}

/* Keeping the photo ------------------------------------------------------------------------------------------ */

/** Only where its box is ticked is the photo sent: drawn anew by the browser, so without place and time. */
async function sendWithPhoto(event) {
  if (!form.elements.keep?.checked) return;
  event.preventDefault();
  const data = new FormData(form, event.submitter);
  event.submitter.disabled = true;
  data.append("photo", await new Promise((done) => { canvas.toBlob(done, "image/jpeg", 0.92); }), "photo.jpg");
  try {
    const response = await fetch(form.getAttribute("action"), { method: "POST", body: data, headers: { "HX-Request": "true" } });
    const to = response.headers.get("HX-Redirect");
    if (to) return location.assign(to);
    answer(await response.text());
  } catch {
    say("The server did not answer. Nothing was stored; try again.");
    event.submitter.disabled = false;
  }
  return undefined;
}

document.getElementById("photo-file").addEventListener("change", (event) => event.target.files.length && open(event.target.files[0]));
document.getElementById("camera-open").hidden = !navigator.mediaDevices?.getUserMedia;
document.getElementById("camera-open").addEventListener("click", openCamera);
document.getElementById("camera-take").addEventListener("click", take);
for (const [name, button] of buttons) {
  button.addEventListener("click", () => {
    if (sheet.hidden) return say("Choose a photo first.");
    choose(name);
    // By keyboard (no pointer position): put it in the middle, ready to be moved.
    if (!points.has(name) && document.activeElement === button && button.matches(":focus-visible")) put(name, canvas.width / 2, canvas.height / 2);
    marks.get(name)?.focus();
    return undefined;
  });
}
form.addEventListener("keydown", (event) => { if (event.key === "Enter" && event.target.matches("input:not([type=radio], [type=checkbox])")) { event.preventDefault(); hooks.read(); } });
form.addEventListener("submit", sendWithPhoto);
new ResizeObserver(() => { for (const name of points.keys()) draw(name); }).observe(canvas);

/** Begin: ``kind()`` says which places are wanted, ``read()`` asks for the numbers, ``answered(element)`` hears them. */
export function begin(own) {
  Object.assign(hooks, own);
  changeKind();
}
