/* The queue of balls: kept in this browser until the server has said that they are stored.

   Every entry is one item of localStorage, written before anything is sent, so a closed lid, a killed server or a
   shut window lose nothing. Entries are sent one at a time, in order, by one tab at a time. Each carries a key made
   here; the database holds a key once, so sending twice stores once. */

const PREFIX = "holdfast-ball:";
const REFUSED = "holdfast-refused:";
const RETRY_MS = [500, 1000, 2000, 4000, 8000];

let counter = 0;
let failures = 0;
let timer = null;
let running = false;
let again = false;
export let trouble = ""; // "", "gone" (no answer) or "signed-out"

export const who = () => document.querySelector("[data-who]")?.dataset.who ?? "";

export function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16)); // randomUUID is missing on plain http
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

function read(prefix) {
  const mine = `${prefix}${who()}:`;
  return Object.keys(localStorage).filter((name) => name.startsWith(mine)).sort()
    .map((name) => ({ ...JSON.parse(localStorage.getItem(name)), name }));
}

export const waiting = () => read(PREFIX);
export const refused = () => read(REFUSED);
export const forget = (entry) => { localStorage.removeItem(entry.name); tell("changed"); };

/** Keep an entry {kind, key, url, body, lesson, block, words} and send it as soon as its turn comes. */
export function keep(entry) {
  counter += 1;
  const last = Number(waiting().at(-1)?.name.split(":").at(-1).split("-")[0] ?? 0);
  const moment = Math.max(Date.now(), last); // the clock may go back at night; the order may not
  const name = `${PREFIX}${who()}:${String(moment).padStart(15, "0")}-${String(counter).padStart(6, "0")}`;
  localStorage.setItem(name, JSON.stringify(entry));
  tell("changed");
  send();
}

function tell(what, detail = {}) {
  document.dispatchEvent(new CustomEvent(`holdfast:${what}`, { detail }));
}

/** Send what waits. One tab at a time where the browser offers locks; the keys make a second sender harmless. */
export async function send() {
  if (running) { again = true; return; }
  running = true;
  clearTimeout(timer);
  const work = async () => { do { again = false; await sendAll(); } while (again && !trouble); };
  try {
    if (navigator.locks) await navigator.locks.request("holdfast-queue", work);
    else await work();
  } finally { running = false; }
  if (waiting().length) {
    timer = setTimeout(send, RETRY_MS[Math.min(failures, RETRY_MS.length - 1)]);
    failures += 1;
  }
}

async function sendAll() {
  for (let entry = waiting()[0]; entry; entry = waiting()[0]) {
    const answer = await post(entry);
    const said = verdict(answer);
    if (said === "wait") return;
    trouble = "";
    failures = 0;
    if (said === "refused") {
      const text = answer.status === 422 ? await answer.text() : "Its block is not there any more.";
      localStorage.setItem(entry.name.replace(PREFIX, REFUSED), JSON.stringify({ ...entry, text, name: undefined }));
    }
    const html = said === "stored" && answer.status === 200 ? await answer.text() : "";
    localStorage.removeItem(entry.name);
    tell(said, { entry, html });
    tell("changed");
  }
}

function verdict(answer) {
  if (answer?.type === "opaqueredirect" || answer?.status === 403) return stuck("signed-out");
  if (!answer || answer.status >= 500 || answer.status === 429) return stuck("gone");
  return answer.ok ? "stored" : "refused";
}

function stuck(why) {
  trouble = why;
  tell("changed");
  return "wait";
}

async function post(entry) {
  try {
    return await fetch(entry.url, {
      method: "POST", body: entry.body, redirect: "manual", credentials: "same-origin",
      headers: { "Content-Type": "application/x-www-form-urlencoded", "X-CSRFToken": token(), "X-Parts": "1" },
    });
  } catch {
    return null;
  }
}

function token() {
  const cookie = document.cookie.match(/(?:^|; )(?:__Host-)?csrftoken=([^;]+)/);
  return cookie ? cookie[1]
    : JSON.parse(document.body.getAttribute("hx-headers") ?? "{}")["x-csrftoken"] ?? "";
}

/** Say in one line what waits and why; empty where nothing does. */
export function line() {
  const count = waiting().filter((entry) => entry.kind === "ball").length;
  if (!waiting().length) return "";
  const balls = `${count} ball${count === 1 ? "" : "s"} waiting to be sent`;
  if (trouble === "signed-out") return `${balls}. Sign in again in another tab; they are kept in this browser.`;
  if (trouble === "gone") return `${balls}. The server does not answer; they are kept in this browser and sent by themselves.`;
  return "";
}

function show() {
  const place = document.getElementById("queue-line");
  if (!place) return;
  place.textContent = line();
  place.hidden = !place.textContent;
}

document.addEventListener("holdfast:changed", show);
addEventListener("online", send);
addEventListener("storage", (event) => { if (event.key?.startsWith(PREFIX)) tell("changed"); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) send(); });
if (who() && waiting().length) send();
show();
