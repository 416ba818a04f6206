// Keep the page's own files, so that it opens without a server too. What the program
// computes is never kept: it is asked for, or it is missing.

const store = "lapwright-page";

const files = ["/", "/assets/style.css", "/assets/screens.css", "/assets/theme.js", "/assets/icon.svg", "/assets/manifest.webmanifest",
  ...["main", "elements", "wire", "plain", "store", "words", "files", "couple", "floor", "shoes", "timeline", "clicks", "camera", "hall", "controls", "lap", "rooms", "book",
    "facts", "check", "bars", "change", "vary", "waysout", "faults", "write", "keeper", "names", "link", "download", "take", "room", "outline", "labels", "freeplace", "numbers", "planwords", "amiss", "class", "teach", "taught", "practise", "calling"].map((n) => `/assets/${n}.js`)];

self.addEventListener("install", (e) => {
  e.waitUntil(caches.open(store).then((c) => c.addAll(files)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (e) => { e.waitUntil(self.clients.claim()); });

// The server comes first, so that nobody looks at an old page; what it gives is kept.
self.addEventListener("fetch", (e) => {
  const path = new URL(e.request.url).pathname;
  if (e.request.method !== "GET" || !(path === "/" || path.startsWith("/assets/"))) return;
  e.respondWith(fetch(e.request).then((reply) => {
    if (reply.ok) {
      const copy = reply.clone();
      e.waitUntil(caches.open(store).then((c) => c.put(path, copy)));
    }
    return reply;
  }).catch(async () => (await caches.match(path)) || Response.error()));
});
