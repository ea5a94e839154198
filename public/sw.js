// Keeps the whole built program on this device, so that it opens without a connection. The build writes the version and
// the list of files; a new version is fetched whole and takes over when the last page of the old one is closed.
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

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(CACHE);
      const page = request.mode === 'navigate';
      // A page is looked for afresh first, so that a new version is met at once where there is a connection.
      if (page) {
        try {
          return await fetch(request);
        } catch {
          return (await cache.match('./', { ignoreVary: true })) ?? Response.error();
        }
      }
      return (await cache.match(request, { ignoreSearch: true, ignoreVary: true })) ?? fetch(request);
    })(),
  );
});
