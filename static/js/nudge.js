/* A quiet word when the transfer should begin: the plan's line says so. Nothing beeps, nothing moves. */
(() => {
  "use strict";
  const look = () => {
    const word = document.querySelector("[data-nudge-at]");
    if (!word) return;
    const due = Date.now() >= Date.parse(word.dataset.nudgeAt);
    if (word.hidden === !due) return;
    word.hidden = !due;
    document.querySelector("[data-nudge-hides]").hidden = due;
  };
  look();
  setInterval(look, 15000);
  document.addEventListener("htmx:afterSettle", look);
})();
