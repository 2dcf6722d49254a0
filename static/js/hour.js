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

  for (const part of list.children) part.draggable = true;
  list.addEventListener("dragstart", (event) => {
    if (event.target.closest("input, textarea")) return event.preventDefault();
    held = event.target.closest("[data-part]");
    event.dataTransfer.effectAllowed = "move";
  });
  list.addEventListener("dragover", (event) => {
    const over = event.target.closest("[data-part]");
    if (!held || !over || over === held) return;
    event.preventDefault();
    const box = over.getBoundingClientRect();
    list.insertBefore(held, event.clientY > box.top + box.height / 2 ? over.nextElementSibling : over);
  });
  list.addEventListener("dragend", () => { held = null; });
})();
