// The page's copy for a site without a network. Filled in by plugin.ts at build time:
declare const __FILES__: string[];
declare const __VERSION__: string;

const worker = self as unknown as ServiceWorkerGlobalScope;
const prefix = 'bedplane-page-';
const copyName = prefix + __VERSION__;

worker.addEventListener('install', (event) => {
  const fetchAll = async () => {
    const copy = await caches.open(copyName);
    await copy.addAll(__FILES__.map((file) => new Request(file, { cache: 'reload' })));
  };
  event.waitUntil(fetchAll());
});

// Only copies of the page are dropped, and only once no page of the older version is open; surveys are not kept here.
worker.addEventListener('activate', (event) => {
  const dropOld = async () => {
    const names = await caches.keys();
    await Promise.all(
      names.filter((name) => name.startsWith(prefix) && name !== copyName).map((name) => caches.delete(name)),
    );
    await worker.clients.claim();
  };
  event.waitUntil(dropOld());
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== worker.location.origin) return;
  const answer = async () => {
    const copy = await caches.open(copyName);
    const key = request.mode === 'navigate' ? './' : request;
    // a server that sends Vary would otherwise hide the copy from module scripts
    return (await copy.match(key, { ignoreSearch: true, ignoreVary: true })) ?? fetch(request);
  };
  event.respondWith(answer());
});
