/* Draws a chart when its <details> is opened: the script is 1.5 MB and nobody waits for what nobody opens.
   Colours are token names in the figure, filled in from the page, again when the theme changes. */
(() => {
  "use strict";
  const bundle = document.querySelector("script[data-chart-bundle]")?.dataset.chartBundle
    || document.currentScript.dataset.chartBundle;
  let loading = null;
  const load = () => {
    loading ||= new Promise((done, failed) => {
      const script = document.createElement("script");
      script.src = bundle;
      script.onload = done;
      script.onerror = failed;
      document.head.append(script);
    });
    return loading;
  };

  const tokens = ["ink", "ink-soft", "accent", "accent-wash", "well", "sheet", "rule", "alarm"];
  const colours = () => {
    const probe = document.createElement("span");
    document.body.append(probe);
    const found = {};
    for (const name of tokens) {
      probe.className = `token-${name}`;
      found[name] = getComputedStyle(probe).color;
    }
    probe.remove();
    return found;
  };
  const fill = (value, found) => {
    if (typeof value === "string") return found[value] || value;
    if (Array.isArray(value)) return value.map((item) => fill(item, found));
    if (value && typeof value === "object") {
      return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, fill(item, found)]));
    }
    return value;
  };

  const draw = async (holder) => {
    await load();
    const found = colours();
    const figure = fill(JSON.parse(document.getElementById(holder.dataset.chart).textContent), found);
    const small = holder.clientWidth < 600;
    const axis = { gridcolor: found.rule, linecolor: found.ink, zerolinecolor: found.ink, color: found.ink };
    const layout = {
      template: "none", paper_bgcolor: "rgba(0,0,0,0)", plot_bgcolor: "rgba(0,0,0,0)", dragmode: small ? false : "zoom",
      font: { color: found.ink, family: getComputedStyle(document.body).fontFamily, size: 14 },
      margin: { l: 56, r: 12, t: 12, b: 44 }, showlegend: true, legend: { orientation: "h", y: -0.18 },
      ...figure.layout,
      xaxis: { ...axis, ...figure.layout.xaxis }, yaxis: { ...axis, ...figure.layout.yaxis },
    };
    // The bundle's own default would offer to upload the chart to its maker's cloud.
    await window.Plotly.react(holder, figure.data, layout, {
      responsive: true, displaylogo: false, showSendToCloud: false, plotlyServerURL: "", displayModeBar: !small,
    });
  };

  document.addEventListener("toggle", (event) => {
    if (!event.target.open) return;
    event.target.querySelectorAll(".chart[data-chart]").forEach((holder) => {
      if (!holder.classList.contains("js-plotly-plot")) draw(holder);
    });
  }, true);
  document.addEventListener("holdfast:theme", () => {
    document.querySelectorAll(".chart.js-plotly-plot").forEach(draw);
  });
})();
