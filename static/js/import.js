/* A file that is chosen or dropped is looked at at once: one action less. Works without: there is a button.

   A file that is longer than can be read is refused here, in a sentence, before it is sent. */
(() => {
  "use strict";
  const form = document.querySelector("form[data-drop]");
  if (!form) return;
  const input = form.querySelector("input[type=file]");
  const problem = document.querySelector("[data-drop-problem]");
  const megabytes = (bytes) => `${Math.ceil(bytes / 1e6).toLocaleString("en")} MB`;

  const send = () => {
    const file = input.files[0];
    const most = Number(form.dataset.drop);
    const long = file && file.size > most;
    problem.textContent = long
      ? `${file.name} has ${megabytes(file.size)}; at most ${megabytes(most)} can be read at once. Export a shorter period, or split the file.` : "";
    problem.hidden = !long;
    if (long) input.value = "";
    else if (file) form.requestSubmit();
  };
  input.addEventListener("change", send);

  const carriesFile = (event) => event.dataTransfer?.types.includes("Files");
  const mark = (over) => document.body.classList.toggle("drop-here", over);
  for (const name of ["dragenter", "dragover"]) {
    document.addEventListener(name, (event) => { if (carriesFile(event)) { event.preventDefault(); mark(true); } });
  }
  document.addEventListener("dragleave", (event) => { if (!event.relatedTarget) mark(false); });
  document.addEventListener("drop", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    mark(false);
    input.files = event.dataTransfer.files;
    send();
  });
})();
