/* Keeps a copy of this page and its drills on this phone, to read where there is no network. Needs https or
   localhost; elsewhere the page is what it always was. */

const STORE = "holdfast-private";
const HOLDER = "holdfast-private-holder";
const note = document.getElementById("offline-note");
const root = document.querySelector("[data-holder]");

if (note && root && "serviceWorker" in navigator && "caches" in window) {
  keep().catch(() => { /* a private window or a full phone: no copy, nothing else is lost */ });
}

async function keep() {
  if (localStorage.getItem(HOLDER) !== root.dataset.holder) await caches.delete(STORE);
  localStorage.setItem(HOLDER, root.dataset.holder);
  await navigator.serviceWorker.register(note.dataset.worker, { scope: "/me/" });
  const pages = [...document.querySelectorAll('a[href^="/me/drills/"]')].map((link) => link.getAttribute("href"));
  const parts = [...document.querySelectorAll("link[rel=stylesheet], link[rel=icon]")].map((link) => link.href);
  const scripts = note.dataset.scripts.split(" ");
  const store = await caches.open(STORE);
  // What is there already is renewed by the worker whenever it is read with a network.
  const wanted = [...new Set(["/me/", ...pages, ...parts, ...scripts])];
  const known = await Promise.all(wanted.map((address) => store.match(address, { ignoreVary: true })));
  await store.addAll(wanted.filter((_, index) => !known[index]));
  note.hidden = false;
}
