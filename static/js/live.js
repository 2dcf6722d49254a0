/* Asks for balls that come by themselves and hands them to the desk, which swaps each piece under its own id.

   A plain fetch, not a polling attribute: a session that ended, or a server that is gone, must never take the
   page away from under somebody who is typing. The form is no part of an answer, so focus stays where it is. */

const GONE_MS = 5000;

async function ask() {
  const place = document.getElementById("live");
  if (!place) return;
  let wait = Number(place.dataset.every) * 1000;
  if (!document.hidden) {
    try {
      const answer = await fetch(place.dataset.live, { redirect: "manual", cache: "no-store", credentials: "same-origin" });
      if (answer.status === 200) show(await answer.text());
      else if (answer.status !== 204) wait = GONE_MS;
    } catch { wait = GONE_MS; }
  }
  setTimeout(ask, wait);
}

/** Pass the pieces on; a control of the top line that has the focus keeps it. */
function show(html) {
  const held = document.activeElement?.closest("#topline") && document.activeElement.matches("button");
  const block = document.getElementById("ball-form")?.getAttribute("action");
  document.dispatchEvent(new CustomEvent("holdfast:stored", { detail: { entry: { kind: "live", block }, html } }));
  if (held) document.querySelector("#topline [data-undo] button")?.focus({ preventScroll: true });
}

ask();
