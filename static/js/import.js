/* A file that is chosen or dropped is looked at at once: one action less. Works without: there is a button. */
(() => {
  "use strict";
  const form = document.querySelector("form[data-drop]");
  if (!form) return;
  const input = form.querySelector("input[type=file]");
  const send = () => { if (input.files.length) form.requestSubmit(); };
  input.addEventListener("change", send);
  for (const name of ["dragenter", "dragover"]) {
    document.addEventListener(name, (event) => { event.preventDefault(); form.classList.add("drop-here"); });
  }
  document.addEventListener("dragleave", () => form.classList.remove("drop-here"));
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    form.classList.remove("drop-here");
    if (!event.dataTransfer.files.length) return;
    input.files = event.dataTransfer.files;
    send();
  });
})();
