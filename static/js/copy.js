/* Copy buttons: shown only where a script runs, and saying whether it worked. */

async function put(field) {
  try {
    await navigator.clipboard.writeText(field.value);
    return true;
  } catch {
    field.focus();
    field.select();
    return document.execCommand("copy"); // a plain http address on the range's own network has no clipboard
  }
}

document.querySelectorAll("[data-copy]").forEach((button) => {
  button.hidden = false;
  button.addEventListener("click", async () => {
    const done = await put(document.querySelector(button.dataset.copy));
    const said = document.querySelector("[data-copied]");
    if (said) said.textContent = done ? "Copied." : "Not copied: select it and copy by hand.";
  });
});
