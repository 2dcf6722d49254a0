/* Angles in the plane of a photo: face-on or down the line, each with its own places to click. */

import { ask, begin, changeKind, placed } from "./photo_marks.js";

const form = document.getElementById("photo-form");
// Until the photo is marked, the server refuses to read it; places to click are those of a face-on one.
const kind = () => form.querySelector("input[name=angle]:checked")?.value ?? "face_on";
const read = () => ask(placed());

for (const field of form.querySelectorAll("input[name=angle]")) field.addEventListener("change", changeKind);
for (const field of form.querySelectorAll("[data-camera]")) field.addEventListener("change", read);
begin({ kind, read });
