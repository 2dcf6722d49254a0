/* The list of balls: waiting, stored, refused; and parts of the page swapped under their own ids. */

import * as queue from "./queue.js";

const desk = document.getElementById("desk");
const form = document.getElementById("ball-form");
const list = document.getElementById("ball-list");

/** True while somebody types into a box of letters or numbers. */
export function typing(element = document.activeElement) {
  if (!element || element.isContentEditable) return Boolean(element?.isContentEditable);
  if (element.matches("select, textarea")) return true;
  return element.matches("input") && !["radio", "checkbox", "button", "submit", "file"].includes(element.type);
}

function mark(entry) {
  if (document.getElementById(`ball-${entry.key}`)) return;
  const row = document.createElement("li");
  row.id = `ball-${entry.key}`;
  row.className = "ball-waiting";
  const number = Object.assign(document.createElement("span"), { className: "ball-number", textContent: "–" });
  const words = Object.assign(document.createElement("span"), { className: "grow", textContent: entry.words });
  const state = Object.assign(document.createElement("span"), { className: "waiting small", textContent: "waiting to be sent" });
  row.append(number, words, state);
  list.prepend(row);
}

function showWaiting() {
  const here = queue.waiting().filter((entry) => entry.block === form?.getAttribute("action"));
  here.filter((entry) => entry.kind === "ball").forEach(mark);
  here.filter((entry) => entry.kind === "out").forEach(({ key }) => {
    const row = document.getElementById(`ball-${key}`);
    row?.querySelector(".waiting")?.replaceChildren("taken back");
    if (row) row.dataset.out = "1";
  });
  const keys = new Set(here.map((entry) => entry.key));
  list?.querySelectorAll(".ball-waiting").forEach((row) => { if (!keys.has(row.id.slice(5))) settle(row); });
  const count = queue.waiting().filter((entry) => entry.kind === "ball").length;
  document.querySelectorAll("[data-waiting]").forEach((place) => {
    place.textContent = ` ${count} waiting to be sent`;
    place.hidden = !count || !queue.trouble;
  });
  showRefused();
}

/** A row whose ball waits no longer, perhaps because another tab has sent it. */
function settle(row) {
  if (row.dataset.out || queue.refused().some((entry) => `ball-${entry.key}` === row.id)) { row.remove(); return; }
  row.className = "";
  Object.assign(row.querySelector(".waiting"), { className: "saved small", textContent: "stored" });
}

function showRefused() {
  const place = document.getElementById("refused");
  if (!place) return;
  const entries = queue.refused().filter((entry) => entry.lesson === desk.dataset.lesson);
  place.replaceChildren(...entries.map((entry) => {
    const row = document.createElement("li");
    const text = Object.assign(document.createElement("p"), {
      className: "field-error", textContent: `Not stored: ${entry.words}. ${entry.text}`,
    });
    const again = Object.assign(document.createElement("button"), { className: "button-quiet button-small", textContent: "Type it again" });
    const drop = Object.assign(document.createElement("button"), { className: "button-quiet button-small", textContent: "Leave it" });
    again.addEventListener("click", () => document.dispatchEvent(new CustomEvent("holdfast:retype", { detail: entry })));
    drop.addEventListener("click", () => queue.forget(entry));
    row.append(text, again, drop);
    return row;
  }));
  place.hidden = !entries.length;
}

/** Swap each piece of an answer for the piece with its id. None of them is a thing that somebody types in. */
function swap(html) {
  const parts = new DOMParser().parseFromString(html, "text/html").body.children;
  for (const part of [...parts]) {
    const fresh = document.adoptNode(part);
    const old = document.getElementById(fresh.id);
    if (fresh.id === "ball-list") fill(fresh);
    else if (fresh.matches(".stop-gist")) tellLine(old, fresh);
    else if (old) old.replaceWith(fresh);
    else if (fresh.matches("li")) list.prepend(fresh);
    window.htmx?.process(fresh);
  }
  showWaiting();
}

/** The whole list anew: what waits here stays on top, and a row that has the focus keeps it. */
function fill(fresh) {
  const held = list.contains(document.activeElement) ? document.activeElement.closest("li").id : "";
  const told = new Set([...fresh.children].map((row) => row.id));
  const waiting = [...list.querySelectorAll(".ball-waiting")].filter((row) => !told.has(row.id));
  list.replaceChildren(...waiting, ...fresh.children);
  if (held) document.getElementById(held)?.querySelector("a")?.focus({ preventScroll: true });
}

/** The line of a shut stop, and the mark in the margin that goes with it. */
function tellLine(old, fresh) {
  if (!old) return;
  old.textContent = fresh.textContent;
  const { classList } = old.closest("details");
  classList.remove("stop-begun", "stop-done");
  if (fresh.dataset.state) classList.add(`stop-${fresh.dataset.state}`);
}

document.addEventListener("holdfast:stored", ({ detail: { entry, html } }) => {
  if (entry.block !== form?.getAttribute("action")) return;
  if (entry.kind === "out") document.getElementById(`ball-${entry.key}`)?.remove();
  if (html) swap(html);
});
document.addEventListener("holdfast:changed", showWaiting);

showWaiting();
