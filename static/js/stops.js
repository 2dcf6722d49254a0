/* The stops of the lesson: setup boxes by keyboard, and bodies that are read when a stop is opened. */

const BALLS = ["first_ten", "with_aids", "without"];

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

/* A page carries the body of the open stop alone. The others are read when a person opens them, each time anew
   because balls have come in meanwhile; only what is half answered at the greeting stays. */
const isDrawn = (stop) => Boolean(stop.querySelector(":scope > [data-drawn]"));

function read(stop) {
  const lesson = document.getElementById("desk")?.dataset.lesson;
  window.htmx?.ajax("GET", `/lessons/${lesson}/stops/${stop.id.slice(5)}/`, {
    source: stop, target: `#${stop.id} > .stop-body`, select: ".stop-body", swap: "outerHTML",
    headers: { "X-Read-Anew": "yes" },
  });
}

document.addEventListener("click", (event) => {
  const link = event.target.closest?.("[data-open-stop]");
  const stop = (link ?? event.target.closest?.(".stop-line"))?.closest("details.stop");
  if (!stop || !window.htmx) return;
  if (link) event.preventDefault(); // never away from the page while nobody may answer
  else if (stop.open || (stop.id === "stop-greet" && isDrawn(stop))) return;
  read(stop);
});

/* What balls say is told while they come in, under the eyes of whoever has the stop open. */
document.addEventListener("holdfast:told", () => {
  for (const slug of BALLS) {
    const stop = document.getElementById(`stop-${slug}`);
    if (stop?.open && isDrawn(stop) && !atWork(stop)) read(stop);
  }
});

const atWork = (stop) => stop.querySelector("[data-busy], .htmx-request")
  || (stop.contains(document.activeElement) && !document.activeElement.matches(".stop-line"));

document.addEventListener("htmx:beforeSwap", (event) => {
  const { target, requestConfig } = event.detail;
  const stop = target.closest?.("details.stop");
  if (requestConfig?.headers["X-Read-Anew"] && stop && (!stop.open || (isDrawn(stop) && atWork(stop)))) {
    event.detail.shouldSwap = false;
  }
});
