/* The plan of an hour: parts are moved by drag or by their buttons without a trip to the server, and counted. */
(() => {
  "use strict";
  const form = document.querySelector("[data-hour]");
  const list = form?.querySelector("[data-parts]");
  if (!list) return;
  let held = null;

  form.addEventListener("click", (event) => {
    const button = event.target.closest("[data-move]");
    if (!button) return;
    event.preventDefault();
    const part = button.closest("[data-part]");
    const other = button.dataset.move === "up" ? part.previousElementSibling : part.nextElementSibling;
    if (!other) return;
    if (button.dataset.move === "up") list.insertBefore(part, other);
    else list.insertBefore(other, part);
    button.focus();
  });

  const total = form.querySelector("[data-total]");
  form.addEventListener("input", () => {
    const minutes = [...list.querySelectorAll("[name^='minutes-']")].map((box) => Number(box.value) || 0);
    total.textContent = minutes.reduce((sum, one) => sum + one, 0);
  });

  /* A part is dragged by its head; what is written in a box can still be marked with the mouse. */
  for (const part of list.children) {
    part.addEventListener("pointerdown", (event) => { part.draggable = !event.target.closest("input, textarea, button"); });
  }
  list.addEventListener("dragstart", (event) => {
    held = event.target.closest("[data-part]");
    event.dataTransfer.effectAllowed = "move";
  });
  list.addEventListener("dragover", (event) => {
    const over = event.target.closest("[data-part]");
    if (!held || !over) return;
    event.preventDefault();
    if (over === held) return;
    const box = over.getBoundingClientRect();
    list.insertBefore(held, event.clientY > box.top + box.height / 2 ? over.nextElementSibling : over);
  });
  list.addEventListener("drop", (event) => event.preventDefault());
  list.addEventListener("dragend", () => { held = null; });
})();
