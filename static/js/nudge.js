/* A quiet word when the transfer should begin: one line appears, nothing beeps, nothing moves away. */
(() => {
  "use strict";
  const line = document.querySelector("[data-nudge-at]");
  if (!line) return;
  const at = Date.parse(line.dataset.nudgeAt);
  const look = () => { line.hidden = !(Date.now() >= at); };
  look();
  setInterval(look, 15000);
})();
