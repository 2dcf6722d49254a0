/* Sends what waited on this phone as soon as the student's page is opened with a network. */

import { Queue, tell } from "./practice-queue.js";

const line = document.getElementById("waiting");
if (line) {
  const token = document.querySelector("[name=csrfmiddlewaretoken]").value;
  const queue = new Queue(line.dataset.holder, line.dataset.address, token);
  const deliver = async () => {
    if (!queue.waiting.length) return;
    line.textContent = tell(await queue.send());
    line.hidden = !line.textContent;
  };
  addEventListener("online", deliver);
  deliver();
}
