// Keeps the shell (style, scripts, the page shown offline). It never keeps anything about a job: pages always come from
// the shop's computer, and where that does not answer, the page says so.

const SHELL = `axlewright-shell-${MARK}`;
const OFFLINE = "/offline";

self.addEventListener("install", (event) => {
  event.waitUntil(keepShell().then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOldShells().then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (request.mode === "navigate") {
    event.respondWith(fetch(request).catch(() => caches.match(OFFLINE)));
  } else if (address.pathname.startsWith("/static/") && address.searchParams.has("v")) {
    event.respondWith(kept(request));
  }
});

// The page shown offline names the files it needs; their addresses carry the mark of their content.
async function keepShell() {
  const shell = await caches.open(SHELL);
  const answer = await fetch(OFFLINE, { cache: "reload", credentials: "omit" });
  if (!answer.ok) throw new Error("the shop does not answer");
  const text = await answer.clone().text();
  await shell.put(OFFLINE, answer);
  const files = [...text.matchAll(/(?:href|src)="(\/static\/[^"]+)"/g)].map((found) => found[1]);
  await shell.addAll([...new Set(files)]);
}

async function dropOldShells() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith("axlewright-shell-") && name !== SHELL);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function kept(request) {
  return (await caches.match(request)) ?? fetch(request);
}
