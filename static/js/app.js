/* Small on purpose: theme, chart clean-up, and the two things a fragment swap would otherwise break. */
(() => {
  "use strict";
  const root = document.documentElement;
  const key = "holdfast-theme";

  const remembered = () => {
    try { return localStorage.getItem(key); } catch { return null; }
  };
  const remember = (theme) => {
    try { localStorage.setItem(key, theme); } catch { /* private window: the choice lasts for this page */ }
  };

  // Runs before the body is drawn, so that a dark office never flashes white.
  const saved = remembered();
  if (saved === "dark" || saved === "light") root.dataset.theme = saved;

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-theme-toggle]");
    if (!button) return;
    const dark = getComputedStyle(root).colorScheme === "dark"
      || (!root.dataset.theme && matchMedia("(prefers-color-scheme: dark)").matches);
    root.dataset.theme = dark ? "light" : "dark";
    remember(root.dataset.theme);
    document.dispatchEvent(new CustomEvent("holdfast:theme", { detail: root.dataset.theme }));
  });

  // A chart left in a swapped-out fragment keeps its listeners and memory until it is purged.
  document.addEventListener("htmx:beforeCleanupElement", (event) => {
    if (window.Plotly && event.target.classList?.contains("js-plotly-plot")) window.Plotly.purge(event.target);
  });

  // A chart drawn while its <details> was shut has the wrong width.
  document.addEventListener("toggle", (event) => {
    if (!window.Plotly || !event.target.open) return;
    event.target.querySelectorAll(".js-plotly-plot").forEach((chart) => window.Plotly.Plots.resize(chart));
  }, true);

  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-print]")) window.print();
  });
})();
