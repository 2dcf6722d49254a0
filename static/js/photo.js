/* Setup numbers from the ground of a photo: corners or sticks, feet and ball are clicked; numbers and a grid come back. */

import { ask, begin, changeKind, list } from "./photo_marks.js";

const SVG = "http://www.w3.org/2000/svg";
const form = document.getElementById("photo-form");
const grid = document.getElementById("photo-grid");
const kind = () => form.querySelector("input[name=kind]:checked").value;
const read = () => ask({ corners: list("corners"), feet: list("feet"), aim: list("aim") });

/** Draw the reprojected ground over the photo, so that a bad click is seen. */
function drawGrid(found) {
  const ends = (found?.dataset.grid ?? "").split(" ").filter(Boolean).map(Number);
  const lines = [];
  for (let i = 0; i < ends.length; i += 4) {
    for (const name of ["grid-under", "grid-line"]) {
      const line = document.createElementNS(SVG, "line");
      ["x1", "y1", "x2", "y2"].forEach((key, at) => line.setAttribute(key, ends[i + at]));
      line.setAttribute("class", name);
      lines.push(line);
    }
  }
  grid.replaceChildren(...lines);
}

function switchKind() {
  document.getElementById("focal-field").hidden = kind() !== "sticks";
  changeKind();
}

for (const field of form.querySelectorAll("input[name=kind]")) field.addEventListener("change", switchKind);
for (const name of ["along", "across", "focal"]) form.elements[name].addEventListener("change", read);
begin({ kind, read, answered: drawGrid });
