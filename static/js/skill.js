/* A short-game test by keyboard: one key a ball. Keys never fire while a person types into a box. */
(() => {
  "use strict";
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || event.repeat) return;
    const box = event.target.closest?.("input:not([type=radio]), textarea, select");
    if (box && box.value !== "") return;
    const button = [...document.querySelectorAll("#skill-run [data-key]")].find((one) => one.dataset.key === event.key.toLowerCase());
    if (!button || button.disabled) return;
    event.preventDefault();
    button.click();
  });

  // The number box is ready again after every ball, without a tap.
  document.addEventListener("htmx:afterSettle", () => {
    const box = document.getElementById("skill-value");
    if (!box) return;
    box.focus();
    box.select();
  });
})();
