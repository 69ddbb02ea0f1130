// Keeps the shell (style, scripts, the page shown offline, the weld page without a job). It never keeps anything about a
// job: pages always come from the shop's computer, and where that does not answer, the page says so. The weld page goes on
// by what it wrote down itself on this device.

const SHELL = `axlewright-shell-${MARK}`;
const OFFLINE = "/offline";
const WELD = "/weld-shell";
const WELD_PAGE = /^\/jobs\/[^/]+\/weld$/;

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
    const shell = WELD_PAGE.test(address.pathname) ? WELD : OFFLINE;
    event.respondWith(fetch(request).catch(() => caches.match(shell)));
  } else if (address.pathname.startsWith("/static/")) {
    event.respondWith(address.searchParams.has("v") ? kept(request) : freshOrKept(request));
  }
});

// The pages kept name the files they need; their addresses carry the mark of their content, or are the weld page's scripts.
async function keepShell() {
  const shell = await caches.open(SHELL);
  const files = await Promise.all([OFFLINE, WELD].map((page) => keepPage(shell, page)));
  await shell.addAll([...new Set(files.flat())]);
}

async function keepPage(shell, page) {
  // The weld page is for paired devices only; the one shown offline is for everybody, and the same for each.
  const credentials = page === OFFLINE ? "omit" : "same-origin";
  const answer = await fetch(page, { cache: "reload", credentials });
  if (!answer.ok) throw new Error("the shop does not answer");
  const text = await answer.clone().text();
  await shell.put(page, answer);
  return [...text.matchAll(/(?:href|src)="(\/static\/[^"]+)"/g)].map((found) => found[1]);
}

async function dropOldShells() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith("axlewright-shell-") && name !== SHELL);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function kept(request) {
  return (await caches.match(request)) ?? fetch(request);
}

async function freshOrKept(request) {
  return fetch(request).catch(async () => (await caches.match(request)) ?? Response.error());
}
