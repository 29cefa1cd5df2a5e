// The worker of the site: keeps every page after one visit, and shows them where there is no network.
// With a network the newest page always goes first: a figure that was put right must not wait for a second visit.
"use strict";

const scope = self.registration.scope;
const PREFIX = "spannerleaf " + scope + " ";
// A new state of the site is a new cache, filled aside and then put in the place of the old one.
const version = Object.values(self.spannerleafFiles).reduce((sum, digest) => {
  let next = sum;
  for (const sign of digest) next = (Math.imul(next, 31) + sign.charCodeAt(0)) | 0;
  return next;
}, 7);
const NAME = PREFIX + (version >>> 0).toString(36);
const LIST = scope + "-/files";
const AT_ONCE = 8;
const PATIENCE_MS = 4000;

const former = async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== NAME);
  for (const name of names.reverse()) {
    const cache = await caches.open(name);
    const list = await cache.match(LIST);
    if (list) return { cache, files: await list.json() };
  }
  return null;
};

const fill = async () => {
  const cache = await caches.open(NAME);
  const old = await former();
  const wanted = Object.entries(self.spannerleafFiles);
  const take = async () => {
    for (let one = wanted.pop(); one; one = wanted.pop()) {
      const [path, digest] = one;
      const url = new URL(path, scope).href;
      const kept = old && old.files[path] === digest && (await old.cache.match(url));
      const answer = kept || (await fetch(url, { cache: "no-cache" }));
      if (!answer.ok) throw new Error(path);
      await cache.put(url, answer);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, take));
  await cache.put(LIST, new Response(JSON.stringify(self.spannerleafFiles)));
};

const tidy = async () => {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== NAME).map((name) => caches.delete(name)));
  await self.clients.claim();
};

const kept = async (url) => {
  const cache = await caches.open(NAME);
  const plain = url.origin + url.pathname;
  const own = (await cache.match(plain)) || (await cache.match(plain + (plain.endsWith("/") ? "" : "/") + "index.html"));
  // A check's page reckons with files of the rider's page, which a worker of its own keeps.
  return own || caches.match(url.href, { ignoreVary: true });
};

// What isn't fetched at the first visit where the site is large; `builder/pages/offline.py` says of which size.
const isOfFleet = (url) => {
  const path = url.href.slice(scope.length).replace(/[?#].*$/, "");
  return /^(bikes|find)(-\d+)?[/.]|^assets\/find\//.test(path) && !(path in self.spannerleafFiles);
};

const answer = async (request) => {
  const url = new URL(request.url);
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
  try {
    const fresh = await fetch(request, { signal: stop.signal });
    // A card that was opened once is there the next time without a network, and so is a page of a fleet too large to keep.
    if (fresh.ok && (url.pathname.endsWith(".pdf") || isOfFleet(url))) await (await caches.open(NAME)).put(url.origin + url.pathname, fresh.clone());
    return fresh;
  } catch {
    return (await kept(url)) || Response.error();
  } finally {
    clearTimeout(timer);
  }
};

self.addEventListener("install", (event) => {
  self.skipWaiting();
  event.waitUntil(fill());
});
self.addEventListener("activate", (event) => event.waitUntil(tidy()));
self.addEventListener("fetch", (event) => {
  if (event.request.method === "GET" && event.request.url.startsWith(scope)) event.respondWith(answer(event.request));
});
