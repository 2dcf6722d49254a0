/* The keys 1 to 9 take back the change that shows the number. Nothing is typed on this page. */
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.repeat || !/^[1-9]$/.test(event.key)) return;
  document.querySelector(`[data-key="${event.key}"]`)?.click();
});
