// The service worker of the rider's page: after one visit it opens without a connection.
//
// What is fetched is kept under the name of this build, which stands in the address of this file; another build brings
// a new name, and what was kept before is deleted. The page itself and the list of files come from the net first.

const BUILD = new URL(self.location.href).searchParams.get("build") || "";
const SHELF = `spannerleaf rider ${new URL("./", self.location.href).pathname}`;
const NAME = `${SHELF} ${BUILD}`;
const FRESH = /(\/|\.html|files\.json)$/;

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  const tidy = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(`${SHELF} `) && name !== NAME) await caches.delete(name);
    }
    await self.clients.claim();
  };
  event.waitUntil(tidy());
});

async function fromNet(request) {
  const response = await fetch(request);
  if (response.ok && response.type === "basic") {
    const copy = response.clone();
    await (await caches.open(NAME)).put(request, copy);
  }
  return response;
}

async function answered(request) {
  const kept = () => caches.match(request, { cacheName: NAME, ignoreVary: true });
  if (FRESH.test(new URL(request.url).pathname)) return fromNet(request).catch(async () => (await kept()) || Response.error());
  return (await kept()) || fromNet(request);
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && new URL(request.url).origin === self.location.origin) event.respondWith(answered(request));
});

// What was fetched before this worker watched: the page tells it, so that it is kept as well.
self.addEventListener("message", (event) => {
  const keep = async () => {
    const shelf = await caches.open(NAME);
    for (const address of event.data?.keep ?? []) {
      if (new URL(address).origin === self.location.origin && !(await shelf.match(address))) {
        const response = await fetch(address);
        if (response.ok) await shelf.put(address, response);
      }
    }
    event.source?.postMessage({ kept: true });
  };
  event.waitUntil(keep());
});
