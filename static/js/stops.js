/* The stops of the lesson: setup boxes by keyboard, and stops read anew when they are opened. */

const FRESH_MS = 1500;
const READ_ANEW = ["look", "reason", "change", "agree"];
const drawn = new Map();

/* Enter goes on to the next box of the same column; leaving a box stores it. */
function boxes(form, phase) {
  return [...form.querySelectorAll(`input[name^="${phase}-"]`)].filter((box) => box.type !== "hidden" && box.offsetParent);
}

document.addEventListener("keydown", (event) => {
  const box = event.target.closest?.("[data-next-on-enter] input[name*='-']");
  if (!box || event.key !== "Enter" || event.isComposing) return;
  event.preventDefault();
  const column = boxes(box.form, box.name.split("-")[0]);
  const next = column[column.indexOf(box) + 1];
  if (next) {
    next.focus();
    next.select();
  } else box.blur();
});

/* A stop that was shut while balls came in is read anew when it is opened. */
document.addEventListener("toggle", (event) => {
  const stop = event.target;
  const slug = stop.id?.startsWith("stop-") ? stop.id.slice(5) : "";
  if (!stop.open || !READ_ANEW.includes(slug) || !window.htmx) return;
  if (Date.now() - (drawn.get(slug) ?? 0) < FRESH_MS || Date.now() - began < FRESH_MS) return;
  drawn.set(slug, Date.now());
  const lesson = document.getElementById("desk")?.dataset.lesson;
  window.htmx.ajax("GET", `/lessons/${lesson}/stops/${slug}/`, { target: `#${stop.id}`, swap: "outerHTML" });
}, true);

document.addEventListener("htmx:afterSwap", (event) => {
  const id = event.detail.target?.id ?? "";
  if (id.startsWith("stop-")) drawn.set(id.slice(5), Date.now());
});

const began = Date.now();
