// Keeps the page's own files on the phone, so that it opens with no network. Answers of the server are never kept here.
const version = 'VERSION';
const files = [/* FILES */];
const languages = {/* LANGUAGES */}; // what each language has of its own: words and fonts
const name = `stanch-${version}`;
const here = new URL('./', self.location).href;
const spoken = 'stanch-language'; // the language of this phone, for the next version to fetch too
const spokenAt = new URL('language', here).href;

const asRequests = (list) => list.map((file) => new Request(new URL(file, here), { cache: 'reload' }));

async function languageFiles() {
  const kept = await (await caches.open(spoken)).match(spokenAt);
  return languages[kept && (await kept.text())] ?? [];
}

async function keepLanguage(language) {
  await (await caches.open(spoken)).put(spokenAt, new Response(language));
  const cache = await caches.open(name);
  const missing = [];
  for (const file of languages[language] ?? []) if (!(await cache.match(new URL(file, here)))) missing.push(file);
  await cache.addAll(asRequests(missing));
}

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(name)
      .then(async (cache) => cache.addAll(asRequests([...files, ...(await languageFiles())])))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((other) => other !== name && other !== spoken).map((other) => caches.delete(other))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('message', (event) => {
  if (typeof event.data?.language === 'string') event.waitUntil(keepLanguage(event.data.language).catch(() => undefined));
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || !url.href.startsWith(here)) return;
  const file = url.href.slice(here.length).split(/[?#]/)[0] || 'index.html';
  if (!files.includes(file) && !Object.values(languages).flat().includes(file)) return;
  event.respondWith(caches.match(new URL(file, here).href).then((kept) => kept ?? fetch(event.request)));
});
