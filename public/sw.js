// Keeps the whole built program on this device, so that it opens without a connection. The build writes the version and
// the list of files; a new version is fetched whole and waits until the person asks for it, or the last page of the old
// one is closed.
const VERSION = 'none';
const FILES = [];
const CACHE = `zonewright-${VERSION}`;

self.addEventListener('install', (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(CACHE);
      await cache.addAll(FILES.map((file) => new Request(file, { cache: 'reload' })));
    })(),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith('zonewright-') && name !== CACHE) await caches.delete(name);
      }
      await self.clients.claim();
    })(),
  );
});

// The person asked for the new version.
self.addEventListener('message', (event) => {
  if (event.data === 'take-over') void self.skipWaiting();
});

/** A page that is not kept is waited for no longer than this, ms. */
const PATIENCE = 10_000;

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(CACHE);
      // The page and its parts are of one version, and open whatever the connection does: a server that never answers,
      // an error page or a sign-in page of the network in between must not keep anyone from their plan.
      const page = request.mode === 'navigate';
      const wanted = page && /\/(index\.html)?$/.test(new URL(request.url).pathname) ? './' : request;
      const kept = await cache.match(wanted, { ignoreSearch: true, ignoreVary: true });
      if (kept) return kept;
      return fetch(
        request,
        request.mode === 'navigate' ? { signal: AbortSignal.timeout(PATIENCE) } : undefined,
      );
    })(),
  );
});
