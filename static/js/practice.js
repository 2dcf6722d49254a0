/* Practice mode: start, clock, one big button, guess then look, the pain question, and a queue for when the
   phone has no network. Without this file the page is a plain form. */

import { Queue, pageStore, plural, tell } from "./practice-queue.js";

const RETRY_MS = 15000;
const root = document.getElementById("practice");
if (root) setUp(root);

function setUp(root) {
  const form = document.getElementById("practice-form");
  const part = (name) => document.getElementById(`practice-${name}`);
  const stateName = `holdfast-practice:${root.dataset.holder}:${root.dataset.drill}`;
  const stopAt = Number(root.dataset.stopAt);
  const goal = Number(root.dataset.balls || 0);
  const queue = new Queue(root.dataset.holder, form.action, form.elements.csrfmiddlewaretoken.value);
  let run = pageStore.read(stateName, null); // a phone that locks or reloads goes on where it was
  let clock = null;
  let halted = false; // pain was told: no new start on this page
  let retry = null;

  const keep = () => pageStore.write(stateName, run);
  const say = (text) => { part("said").textContent = text; };

  function show() {
    const stage = run ? run.stage : "start";
    part("start").hidden = stage !== "start" || halted;
    part("run").hidden = stage !== "run";
    form.hidden = stage !== "ask";
    clearInterval(clock);
    if (stage === "run") {
      tickClock();
      clock = setInterval(tickClock, 1000);
    }
    if (run) {
      const passed = run.passed.filter(Boolean).length;
      part("count").textContent = `${plural(run.passed.length, root.dataset.noun)}, ${passed} passed`;
      const done = goal && run.passed.length >= goal;
      part("ask").textContent = done
        ? `That is the ${goal} of this drill. Finish, or rest before more.`
        : part("ask").dataset.ask;
    }
  }

  function tickClock() {
    const seconds = Math.floor((Date.now() - run.from) / 1000);
    part("clock").textContent = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  }

  function ask() {
    run.stage = "ask";
    run.minutes ??= Math.max(1, Math.round((Date.now() - run.from) / 60000));
    form.elements.minutes.value = Math.min(run.minutes, 600);
    const passed = run.passed.filter(Boolean).length;
    if (root.dataset.noun === "ball") {
      form.elements.balls.value = run.passed.length;
      form.elements.hits.value = passed;
    } else if (!form.elements.note.value && run.passed.length) {
      // Repeats without a ball are no balls: they would count as load.
      form.elements.note.value = `${plural(run.passed.length, "repeat")}, ${passed} passed`;
    }
    form.elements.practised_at.value = new Date(run.from).toISOString();
    form.elements.key.value = run.key;
    keep();
    show();
    form.elements.pain[0].focus();
  }

  const deeds = {
    start() { run = { from: Date.now(), passed: [], stage: "run", key: newKey() }; say(""); },
    ball() { run.passed.push(false); },
    pass() { if (run.passed.length) run.passed[run.passed.length - 1] = true; else say("Count one first."); },
    back() { run.passed.pop(); },
    finish: ask,
    hurts() { ask(); say("Stop for now. Say how strong it is and where."); },
  };

  root.addEventListener("click", (event) => {
    const deed = event.target.closest("[data-do]")?.dataset.do;
    if (!deed || (!run && deed !== "start")) return;
    deeds[deed]();
    keep();
    show();
  });

  form.addEventListener("input", () => {
    const { balls, hits } = form.elements;
    const toomany = hits.value !== "" && balls.value !== "" && Number(hits.value) > Number(balls.value);
    hits.setCustomValidity(toomany ? "More passed than balls were hit." : "");
  });

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (!form.reportValidity()) return;
    const entry = Object.fromEntries(new FormData(form));
    delete entry.csrfmiddlewaretoken;
    if (!queue.add(entry)) { form.submit(); return; } // the phone keeps nothing: send it the plain way
    cautions(entry);
    run = null;
    pageStore.write(stateName, null);
    form.reset();
    form.elements.key.value = newKey();
    show();
    say("Kept on this phone. Sending …");
    deliver();
  });

  /* Shown at once, with or without a network: the words must not wait for the server. */
  function cautions(entry) {
    const emergency = entry.red_flag === "on";
    const halt = emergency || entry.is_new === "on" || Number(entry.pain || 0) >= stopAt;
    if (!halt) return;
    part("emergency").hidden = !emergency;
    part("halt").hidden = false;
    part("stop").hidden = false;
    halted = true;
    part("stop").scrollIntoView();
  }

  async function deliver() {
    clearTimeout(retry);
    const result = await queue.send();
    const said = tell(result);
    if (said) say(said);
    // A weak network comes back without telling the page.
    if (result.waiting && !result.closed) retry = setTimeout(deliver, RETRY_MS);
  }

  addEventListener("online", () => deliver());
  document.addEventListener("visibilitychange", () => { if (!document.hidden) deliver(); });
  show();
  if (run && run.stage === "ask") ask();
  deliver();
}

/* crypto.randomUUID exists on https and localhost only; a range's own network may be plain http. */
function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}
