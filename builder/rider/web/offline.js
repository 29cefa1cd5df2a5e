// The service worker of the rider's page: after one visit it opens without a connection.
//
// What is fetched is kept under the name of this build, which stands in the address of this file; another build brings
// a new name, and what was kept before is deleted. What has its digest in its address never changes and is taken from
// what is kept; all else comes from the net first, so that no script meets a page of another build.

const BUILD = new URL(self.location.href).searchParams.get("build") || "";
const SHELF = `spannerleaf rider ${new URL("./", self.location.href).pathname}`;
const NAME = `${SHELF} ${BUILD}`;
const PATIENCE_MS = 4000;

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

// The fonts and styles of the site may be kept by its own worker alone.
const kept = async (request) =>
  (await caches.match(request, { cacheName: NAME, ignoreVary: true })) || caches.match(request, { ignoreVary: true });

async function fromNet(request, how = {}) {
  const response = await fetch(request, how);
  if (response.ok && response.type === "basic") {
    const copy = response.clone();
    await (await caches.open(NAME)).put(request, copy);
  }
  return response;
}

async function answered(request) {
  if (new URL(request.url).search) return (await kept(request)) || fromNet(request);
  const known = await kept(request);
  if (!known) return fromNet(request);
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
  return fromNet(request, { signal: stop.signal })
    .catch(() => known)
    .finally(() => clearTimeout(timer));
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
        if (!response.ok) throw new Error(address);
        await shelf.put(address, response);
      }
    }
  };
  // What comes packed is kept unpacked besides: a browser keeps what it compiled of WebAssembly that it finds as it is.
  const unpack = async () => {
    const shelf = await caches.open(NAME);
    for (const { from, as, sha256, type } of event.data?.unpack ?? []) {
      if (await shelf.match(as)) continue;
      const packed = await (await shelf.match(from)).arrayBuffer();
      const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", packed));
      if ([...digest].map((one) => one.toString(16).padStart(2, "0")).join("") !== sha256) {
        await shelf.delete(from); // the next visit fetches it again
        throw new Error(from);
      }
      const plain = await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
      // Where there is no room for it, what is packed does.
      await shelf.put(as, new Response(plain, { headers: { "Content-Type": type } })).catch(() => {});
    }
  };
  const told = (done) => event.ports[0]?.postMessage({ kept: done });
  event.waitUntil(keep().then(unpack).then(() => told(true), () => told(false)));
});
