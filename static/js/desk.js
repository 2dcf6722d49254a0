/* The lesson desk: balls by one or two keys, undo, shortcuts. The list itself is in ball_list.js. */

import { typing } from "./ball_list.js";
import * as queue from "./queue.js";

const desk = document.getElementById("desk");
const form = document.getElementById("ball-form");
const problem = document.getElementById("ball-problem");
const CONTACT_KEYS = { Enter: "clean", f: "fat", t: "thin", p: "top", s: "sky", h: "heel", o: "toe", k: "shank" };
const TWICE_MS = 400;
let lastStored = 0;

/* Words ------------------------------------------------------------------------------------------ */

const say = (text) => { problem.textContent = text; problem.hidden = !text; };
const chosen = (name) => form.querySelector(`input[name="${name}"]:checked`);
const boxes = () => [...form.querySelectorAll("input[inputmode]")];

/** A number box takes no letters, so an empty one types nothing. */
const inEmptyBox = () => form?.dataset.mode === "numbers" && boxes().includes(document.activeElement)
  && boxes().every((box) => !box.value);

/* Entering a ball ---------------------------------------------------------------------------------- */

function wordsOf(contact) {
  if (form.dataset.mode === "numbers") {
    return boxes().filter((box) => box.value.trim())
      .map((box) => `${box.dataset.words} ${box.value.trim()} ${box.dataset.unit}`).join(", ");
  }
  const said = ["shape", "height"].map((name) => chosen(name)?.dataset.words).filter(Boolean);
  const button = form.querySelector(`button[value="${contact}"]`);
  return [...said, button?.firstChild.textContent.toLowerCase()].filter(Boolean).join(", ");
}

function enter(contact = "") {
  const words = wordsOf(contact);
  if (form.dataset.mode === "numbers" && !words) return say("Type at least one number.");
  const bare = form.dataset.mode === "calls" && !chosen("shape");
  if (bare && Date.now() - lastStored < TWICE_MS) return undefined; // the second half of a double click
  if (bare && contact === "clean") return say("Say where it went first: 1 to 9.");
  const data = new URLSearchParams(new FormData(form));
  const key = queue.newKey();
  data.delete("csrfmiddlewaretoken");
  data.set("key", key);
  data.set("hit_at", new Date().toISOString());
  if (contact) data.set("contact", contact);
  if (chosen("shape")?.dataset.twice) data.set("shape", doubled(chosen("shape").value));
  say("");
  lastStored = Date.now();
  queue.keep({
    kind: "ball", key, url: form.getAttribute("action"), body: data.toString(), words,
    lesson: desk.dataset.lesson, block: form.getAttribute("action"),
  });
  clear();
  return undefined;
}

/* Half a ball: kept in this tab over a reload ---------------------------------------------------------- */

const draftName = () => `holdfast-draft:${queue.who()}:${form.getAttribute("action")}`;
const forgetDraft = () => sessionStorage.removeItem(draftName());

function keepDraft() {
  const typed = [...new FormData(form)].filter(([name, value]) => value && !["csrfmiddlewaretoken", "key", "system"].includes(name));
  if (!typed.length) return forgetDraft();
  const twice = Boolean(chosen("shape")?.dataset.twice);
  return sessionStorage.setItem(draftName(), JSON.stringify({ typed, twice }));
}

function takeDraft() {
  const kept = JSON.parse(sessionStorage.getItem(draftName()) ?? "null");
  for (const [name, value] of kept?.typed ?? []) {
    const box = form.querySelector(`input[name="${name}"]`);
    if (box?.type === "radio") form.querySelector(`input[name="${name}"][value="${value}"]`).checked = true;
    else if (box) box.value = value;
  }
  if (kept?.twice && chosen("shape")) chosen("shape").dataset.twice = "1";
}

form?.addEventListener("input", keepDraft);

/** Twice the same flight key: a lot of curve. */
function doubled(shape) {
  const [start, curve] = shape.split(",").map(Number);
  return `${start},${Math.sign(curve) * 2}`;
}

function clear() {
  form.reset();
  forgetDraft();
  form.querySelectorAll("[data-twice]").forEach((input) => delete input.dataset.twice);
  if (form.dataset.mode === "numbers") boxes()[0].focus();
  else if (form.contains(document.activeElement)) document.activeElement.blur();
}

function choose(digit) {
  const input = form.querySelector(`[data-digit="${digit}"] input`);
  const curved = input.value.split(",")[1] !== "0";
  if (input.checked && curved) {
    input.dataset.twice = "1";
    say(`${input.dataset.words}, a lot of curve`);
  } else say("");
  form.querySelectorAll("[data-twice]").forEach((other) => { if (other !== input) delete other.dataset.twice; });
  input.checked = true;
  keepDraft();
}

form?.addEventListener("submit", (event) => {
  event.preventDefault();
  enter(event.submitter?.name === "contact" ? event.submitter.value : form.dataset.mode === "calls" ? "clean" : "");
});

/* Refused: back into the boxes with the reason ------------------------------------------------------- */

function refill(entry) {
  const data = new URLSearchParams(entry.body);
  boxes().forEach((box) => { box.value = data.get(box.name) ?? ""; });
  queue.forget(entry);
  boxes()[0]?.focus();
}

document.addEventListener("holdfast:retype", ({ detail: entry }) => refill(entry));
document.addEventListener("holdfast:refused", ({ detail: { entry } }) => {
  document.getElementById(`ball-${entry.key}`)?.remove();
  const latest = queue.refused().find((other) => other.key === entry.key);
  if (!latest || boxes().length === 0 || boxes().some((box) => box.value)) return;
  refill(latest);
  say(latest.text);
});

/* Undo, and other forms of the desk: never leave the page while nobody answers ----------------------------- */

async function answers() {
  try {
    return (await fetch("/static/mark.svg", { method: "HEAD", cache: "no-store" })).status < 500;
  } catch { return false; }
}

/** The last ball still waits: it is sent and then taken back, in order, so that no tab is left with it. */
function takeBackWaiting() {
  const entries = queue.waiting();
  const gone = new Set(entries.filter((entry) => entry.kind === "out").map((entry) => entry.key));
  const last = entries.filter((entry) => entry.kind === "ball" && !gone.has(entry.key)).at(-1);
  if (!last) return entries.length > 0;
  queue.keep({ ...last, name: undefined, kind: "out", url: `/balls/${last.key}/out/`, body: "" });
  return true;
}

document.addEventListener("submit", async (event) => {
  const sent = event.target;
  if (sent === form || sent.method === "dialog" || sent.hasAttribute("hx-post") || sent.dataset.reached) return;
  if (!sent.closest("#desk, #topline")) return;
  event.preventDefault();
  if (sent.dataset.busy) return;
  if (sent.matches("[data-undo]") && takeBackWaiting()) return;
  sent.dataset.busy = "1";
  if (await answers()) {
    sent.dataset.reached = "1";
    sent.requestSubmit(event.submitter);
  } else {
    delete sent.dataset.busy;
    const place = document.getElementById("queue-line");
    place.textContent = "The server does not answer. Nothing was changed; balls can still be entered.";
    place.hidden = false;
  }
}, true);

/* Keys ------------------------------------------------------------------------------------------------- */

const press = (selector) => {
  const found = document.querySelector(selector);
  if (found?.matches("a")) found.click();
  else found?.requestSubmit();
};
const SHORTCUTS = {
  "?": () => document.getElementById("keys").showModal(),
  u: () => press("[data-undo]"),
  n: () => press("[data-next]"),
  b: () => press('[data-shortcut="b"]'),
  i: () => press('[data-shortcut="i"]'),
  r: () => press("[data-reading]"),
  g: goToBalls,
};

function goToBalls() {
  document.getElementById("balls").scrollIntoView({ block: "start" });
  if (form?.dataset.mode === "numbers") boxes()[0].focus();
  else document.activeElement?.blur();
}

function called(key) {
  if (/^[1-9]$/.test(key)) { choose(key); return true; }
  if (key === "+" || key === "-") {
    form.querySelector(`input[name="height"][value="${key === "+" ? 1 : -1}"]`).checked = true;
    keepDraft();
    return true;
  }
  if (!(key in CONTACT_KEYS)) return false;
  enter(CONTACT_KEYS[key]);
  return true;
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || document.querySelector("dialog[open]")) return;
  const element = document.activeElement;
  if (event.key === "Escape" && typing(element)) { element.blur(); return; }
  if (typing(element) && !(inEmptyBox() && /^[unbirg?]$/.test(event.key))) return;
  const onControl = element?.matches("a, button, summary") && !form?.contains(element);
  // A flight is called already: Enter finishes the ball, wherever a click has left the focus.
  if (event.key === "Enter" && onControl && !(form?.dataset.mode === "calls" && chosen("shape"))) return;
  if (event.repeat) { if (event.key === "Enter" || event.key in SHORTCUTS) event.preventDefault(); return; }
  if (form?.dataset.mode === "calls" && called(event.key)) { event.preventDefault(); return; }
  if (event.key in SHORTCUTS) { event.preventDefault(); SHORTCUTS[event.key](); }
});

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-keys]")) SHORTCUTS["?"]();
});

/* Start -------------------------------------------------------------------------------------------------- */

if (form) takeDraft();
const startTyping = () => {
  if (document.activeElement === document.body) boxes()[0].focus({ preventScroll: location.hash !== "#balls" });
};
if (form?.dataset.mode === "numbers" && matchMedia("(pointer: fine)").matches) {
  startTyping();
  addEventListener("load", () => setTimeout(startTyping)); // going to #balls takes the focus away again
}
if (desk) desk.dataset.ready = "yes";
