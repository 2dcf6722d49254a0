/* Keeps the student's page readable without a network: network first, the copy on this phone where there is none.
   Served as /me/worker.js, so that it reaches the private pages and nothing else. The copies go when the link has
   ended, when the page is closed on this device, and when another student's page is opened here. */

const STORE = "holdfast-private";
const KEPT = /^\/me\/($|drills\/|plan\/$)|^\/static\//;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (url.origin !== location.origin) return;
  if (event.request.method === "POST" && url.pathname === "/me/close/") event.respondWith(close(event.request));
  else if (event.request.method === "GET" && KEPT.test(url.pathname)) event.respondWith(read(event.request, url.pathname));
});

async function read(request, path) {
  const store = await caches.open(STORE);
  let answer;
  try {
    answer = await fetch(request);
  } catch {
    return (await store.match(request, { ignoreSearch: true, ignoreVary: true })) ?? Response.error();
  }
  if (answer.ok && !answer.redirected) await store.put(request, answer.clone());
  else if (path === "/me/") await caches.delete(STORE); // the link has ended: nothing of it stays on the phone
  else await store.delete(request);
  return answer;
}

async function close(request) {
  await caches.delete(STORE);
  return fetch(request);
}
