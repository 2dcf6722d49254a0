/* Asks what is new in the lesson and hands it to the desk, which swaps each piece under its own id: balls that come
   by themselves, balls of another tab or another coach's device, the lines of the stops after each change.

   A plain fetch, not a polling attribute: a session that ended, or a server that is gone, must never take the
   page away from under somebody who is typing. The form is no part of an answer, so focus stays where it is. */

const GONE_MS = 5000;
const SETTLE_MS = 400; // after a ball of one's own: when no other follows at once

let timer = null;
let asking = false;
let outdated = false; // something was stored while the answer was on its way: it may not know it yet

function soon(wait) {
  outdated = asking;
  clearTimeout(timer);
  if (!asking) timer = setTimeout(ask, wait);
}

async function ask() {
  const place = document.getElementById("live");
  if (!place) return;
  let wait = Number(place.dataset.every) * 1000;
  if (!document.hidden) {
    asking = true;
    try {
      const answer = await fetch(place.dataset.live, { redirect: "manual", cache: "no-store", credentials: "same-origin" });
      const html = answer.status === 200 ? await answer.text() : "";
      if (html && !outdated) show(html);
      else if (answer.status !== 200 && answer.status !== 204) wait = GONE_MS;
    } catch { wait = GONE_MS; }
    asking = false;
    if (outdated) wait = SETTLE_MS;
    outdated = false;
  }
  clearTimeout(timer);
  timer = setTimeout(ask, wait);
}

/** Pass the pieces on; a control of the top line that has the focus keeps it. */
function show(html) {
  const held = document.activeElement?.closest("#topline") && document.activeElement.matches("button");
  const block = document.getElementById("ball-form")?.getAttribute("action");
  document.dispatchEvent(new CustomEvent("holdfast:stored", { detail: { entry: { kind: "live", block }, html } }));
  if (held) document.querySelector("#topline [data-undo] button")?.focus({ preventScroll: true });
  if (html.includes('id="ball-list"')) document.dispatchEvent(new CustomEvent("holdfast:told"));
}

document.addEventListener("holdfast:stored", ({ detail: { entry } }) => { if (entry.kind !== "live") soon(SETTLE_MS); });
document.addEventListener("htmx:afterRequest", ({ detail }) => { if (detail.requestConfig?.verb !== "get") soon(SETTLE_MS); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) soon(0); });
// Another tab of this browser has sent what it kept.
addEventListener("storage", (event) => { if (event.key?.startsWith("holdfast-ball:") && !event.newValue) soon(SETTLE_MS); });

ask();
