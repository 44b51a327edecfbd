{% load static %}/* Pages without a signal. The network comes first; what it brought last is shown when it is gone.
   What is kept is one person's: it goes whenever somebody signs in or out. */
importScripts(
  "{% static 'front/vendor/workbox-core-7.4.1.js' %}",
  "{% static 'front/vendor/workbox-routing-7.4.1.js' %}",
  "{% static 'front/vendor/workbox-strategies-7.4.1.js' %}",
);
const { registerRoute, setCatchHandler } = workbox.routing;
const { NetworkFirst, NetworkOnly } = workbox.strategies;

const SHELL = "shell";
const PAGES = "pages";
const OFFLINE = "{% url 'offline' %}";
const DOORS = ["{% url 'sign-in' %}", "{% url 'sign-out' %}"];
const NEEDED = [OFFLINE, {% for file in files %}"{% static file %}", {% endfor %}];
/* The opening page, and those of inspections, jobs, machines, models and their files. */
const KEPT = /^\/(?:(?:inspections\/\d+\/(?:steps\/\d+\/)?|jobs\/[A-Z]+\d+\/|machines\/\d+\/|models\/\d+\/)?|files\/[0-9a-f-]+\/(?:small\/)?)$/;
const STEP = /^(\/inspections\/\d+\/steps\/)\d+\/$/;

self.addEventListener("install", (event) => {
  self.skipWaiting();
  event.waitUntil(caches.open(SHELL).then((shell) => shell.addAll(NEEDED)));
});
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

/* Signing in or out: first all pages go, then the form goes its way. */
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "POST" || !DOORS.includes(new URL(request.url).pathname)) return;
  event.respondWith(
    caches.delete(PAGES).then(() => fetch(request)).catch(() => caches.match(OFFLINE)),
  );
});

const keeping = {
  /* Every step's address shows the same page. */
  async cacheKeyWillBeUsed({ request }) {
    const url = new URL(request.url);
    return STEP.test(url.pathname) ? url.origin + url.pathname.replace(STEP, "$11/") : request;
  },
  /* A kept page says since when; nothing is kept of a door, a refusal or a fault. */
  async cacheWillUpdate({ response }) {
    if (response.status !== 200 || response.redirected || response.type !== "basic") return null;
    if (!response.headers.get("Content-Type")?.startsWith("text/html")) return response;
    const text = await response.text();
    const marked = text.replace("<html ", `<html data-kept="${new Date().toISOString()}" `);
    const headers = new Headers(response.headers);
    headers.delete("Content-Encoding");
    headers.delete("Content-Length");
    return new Response(marked, { status: 200, headers });
  },
};
const ours = ({ url, sameOrigin }) => sameOrigin && KEPT.test(url.pathname);
/* A step's page may come from here sooner, since the phone lays its own answers over it. */
const step = new NetworkFirst({ cacheName: PAGES, plugins: [keeping], networkTimeoutSeconds: 8 });
const page = new NetworkFirst({ cacheName: PAGES, plugins: [keeping] });
registerRoute(({ url, sameOrigin }) => sameOrigin && STEP.test(url.pathname), step);
registerRoute(ours, page);
registerRoute(({ url, sameOrigin }) => sameOrigin && url.pathname.startsWith("{% get_static_prefix %}"), new NetworkFirst({ cacheName: SHELL }));
registerRoute(({ request }) => request.mode === "navigate", new NetworkOnly());
setCatchHandler(async ({ request }) => (request.mode === "navigate" ? caches.match(OFFLINE) : Response.error()));
