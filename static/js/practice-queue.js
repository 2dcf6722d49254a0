/* Practices that wait on this phone until the network is back. Each carries its own key, so that sending one
   twice stores it once. Kept apart per student: a guardian may hold the pages of two children on one phone. */

const PREFIX = "holdfast-practice-queue:";

export const pageStore = {
  read(name, fallback) {
    try { return JSON.parse(localStorage.getItem(name)) ?? fallback; } catch { return fallback; }
  },
  write(name, value) {
    try {
      if (value === null) localStorage.removeItem(name);
      else localStorage.setItem(name, JSON.stringify(value));
      return true;
    } catch { return false; }
  },
};

export const plural = (n, noun) => `${n} ${noun}${n === 1 ? "" : "s"}`;

/* What became of a delivery, for the person; "" where there was nothing to send. */
export function tell(result) {
  const waiting = plural(result.waiting, "practice");
  const said = result.refused.map((one) => `A practice was not taken: ${one.problems.join(" ")}`);
  if (result.closed) said.push(`This page no longer works, ask your coach for a new link. On this phone: ${waiting} not sent.`);
  else if (result.waiting) said.push(`No network. On this phone: ${waiting}, sent when the network is back.`);
  else if (result.sent.some((one) => one.stop)) said.push("Sent. Your coach has been told.");
  else if (result.sent.length) said.push("Sent. Well done for writing it down.");
  return said.join(" ");
}

export class Queue {
  constructor(holder, address, token) {
    this.name = PREFIX + holder;
    this.address = address;
    this.token = token;
    this.sending = null;
    this.again = false;
  }

  get waiting() { return pageStore.read(this.name, []); }

  /* Returns whether the phone could keep it. */
  add(entry) {
    const others = this.waiting.filter((one) => one.key !== entry.key);
    return pageStore.write(this.name, [...others, entry]);
  }

  drop(key) {
    const left = this.waiting.filter((one) => one.key !== key);
    pageStore.write(this.name, left.length ? left : null);
  }

  /* Sends what waits, oldest first, and returns {sent, refused, waiting, closed}. One run at a time; whoever asks
     while one runs (the network came back while the last try was failing) gets another run behind it. */
  send() {
    if (this.sending) this.again = true;
    this.sending ??= this.runs().finally(() => { this.sending = null; });
    return this.sending;
  }

  async runs() {
    let result;
    do {
      this.again = false;
      const next = await this.run();
      result = { ...next, sent: [...result?.sent ?? [], ...next.sent], refused: [...result?.refused ?? [], ...next.refused] };
    } while (this.again && result.waiting && !result.closed);
    return result;
  }

  async run() {
    const result = { sent: [], refused: [], closed: false };
    for (const entry of this.waiting) {
      let response;
      try {
        response = await fetch(this.address, {
          method: "POST", body: new URLSearchParams(entry), redirect: "error", credentials: "same-origin",
          headers: { "Accept": "application/json", "X-CSRFToken": this.token },
        });
      } catch { break; } // no network: everything stays, in order
      if (response.ok) {
        result.sent.push({ key: entry.key, ...await response.json() });
        this.drop(entry.key);
      } else if (response.status === 422) {
        // The server understood and said no; sending it again would not help.
        result.refused.push({ key: entry.key, ...await response.json() });
        this.drop(entry.key);
      } else {
        result.closed = response.status === 404 || response.status === 403;
        break;
      }
    }
    return { ...result, waiting: this.waiting.length };
  }
}
