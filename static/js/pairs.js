/* Before and after side by side: the divider moves, and two clips are stepped together, each by its own frame. */

function setUp(pair) {
  const halves = pair.querySelector(".pair-halves");
  const tools = pair.querySelector(".pair-tools");
  if (!tools) return;
  tools.hidden = false;
  const divider = tools.querySelector("[data-divider]");
  divider.addEventListener("input", () => {
    halves.style.setProperty("--before", `${divider.value}fr`);
    halves.style.setProperty("--after", `${100 - divider.value}fr`);
  });
  const clips = [...pair.querySelectorAll("video")];
  if (!("clips" in pair.dataset)) return;
  for (const button of tools.querySelectorAll("[data-step]")) {
    button.addEventListener("click", () => stepAll(clips, Number(button.dataset.step)));
  }
  // Before the browser's own keys of a video, which would jump by seconds.
  pair.addEventListener("keydown", (event) => {
    const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (!way || event.target === divider) return;
    event.preventDefault();
    event.stopPropagation();
    stepAll(event.shiftKey ? clips.filter((clip) => clip === event.target) : clips, way);
  }, true);
}

function stepAll(clips, frames) {
  for (const clip of clips) step(clip, frames);
}

/** Land in the middle of a frame, so that rounding never shows its neighbour. */
function step(clip, frames) {
  const lasts = Number(clip.dataset.frameS);
  clip.pause();
  const now = Math.floor(clip.currentTime / lasts + 1e-3);
  const last = Number.isFinite(clip.duration) ? clip.duration : Infinity;
  clip.currentTime = Math.min(Math.max((now + frames + 0.5) * lasts, 0), last);
}

document.querySelectorAll("[data-pair]").forEach(setUp);
