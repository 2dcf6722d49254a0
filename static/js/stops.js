/* The stops of the lesson: setup boxes by keyboard, and stops read anew when they are opened. */

const READ_ANEW = ["look", "reason", "change", "agree"];

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

/* A stop that was shut while balls came in is read anew when a person opens it, unless they are already at work. */
document.addEventListener("click", (event) => {
  const stop = event.target.closest?.(".stop-line")?.parentElement;
  const slug = stop?.id.startsWith("stop-") ? stop.id.slice(5) : "";
  if (!READ_ANEW.includes(slug) || stop.open || !window.htmx) return;
  const lesson = document.getElementById("desk")?.dataset.lesson;
  window.htmx.ajax("GET", `/lessons/${lesson}/stops/${slug}/`, {
    target: `#${stop.id}`, swap: "outerHTML", headers: { "X-Read-Anew": "yes" },
  });
});

const atWork = (stop) => stop.querySelector("[data-busy], .htmx-request")
  || (stop.contains(document.activeElement) && !document.activeElement.matches(".stop-line"));

document.addEventListener("htmx:beforeSwap", (event) => {
  const { target, requestConfig } = event.detail;
  if (requestConfig?.headers["X-Read-Anew"] && (atWork(target) || !target.open)) event.detail.shouldSwap = false;
});
