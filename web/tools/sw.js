// Keeps the page's own files on the phone, so that it opens with no network. Answers of the server are never kept here.
const version = 'VERSION';
const files = [/* FILES */];
const name = `stanch-${version}`;
const here = new URL('./', self.location).href;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(name)
      .then((cache) => cache.addAll(files.map((file) => new Request(new URL(file, here), { cache: 'reload' }))))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((other) => other !== name).map((other) => caches.delete(other))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || !url.href.startsWith(here)) return;
  const file = url.href.slice(here.length).split(/[?#]/)[0] || 'index.html';
  if (!files.includes(file)) return;
  event.respondWith(caches.match(new URL(file, here).href).then((kept) => kept ?? fetch(event.request)));
});
