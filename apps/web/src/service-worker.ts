/// <reference types="@sveltejs/kit" />
/// <reference lib="webworker" />
import { build, files, version } from '$service-worker';
import { keptHeader } from './lib/kept-header.ts';

/*
 * Keeps Tankside usable through a network drop: the app itself from the cache, and the last answers of the few
 * requests a lot at the tank needs. Everything else goes to the network as if this were not here.
 */
const worker = globalThis as unknown as ServiceWorkerGlobalScope;
const SHELL = `shell-${version}`;
const ANSWERS = 'tankside-answers';
const assets = [...build, ...files, '/'];

worker.addEventListener('install', (event) => {
  event.waitUntil(caches.open(SHELL).then((cache) => cache.addAll(assets)));
});

worker.addEventListener('activate', (event) => {
  const outdated = (name: string) => name.startsWith('shell-') && name !== SHELL;
  event.waitUntil(
    caches.keys().then((names) => Promise.all(names.filter(outdated).map((name) => caches.delete(name)))),
  );
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== worker.location.origin) return;
  if (url.pathname.startsWith('/api/')) {
    if (request.method === 'POST' && url.pathname.startsWith('/api/sign-'))
      event.waitUntil(caches.delete(ANSWERS));
    if (request.method === 'GET' && isNeededAtTheTank(url.pathname))
      event.respondWith(freshElseKept(request));
    return;
  }
  if (request.method !== 'GET') return;
  if (request.mode === 'navigate') event.respondWith(fetch(request).catch(() => kept('/')));
  else if (build.includes(url.pathname)) event.respondWith(kept(url.pathname));
});

const isNeededAtTheTank = (path: string) => path === '/api/me' || path.startsWith('/api/tankside');

async function kept(path: string): Promise<Response> {
  return (await caches.match(path)) ?? fetch(path);
}

async function freshElseKept(request: Request): Promise<Response> {
  const cache = await caches.open(ANSWERS);
  try {
    const response = await fetch(request);
    if (response.ok) await cache.put(request, response.clone());
    if (response.status === 401) await caches.delete(ANSWERS);
    return response;
  } catch (error) {
    const last = await cache.match(request);
    if (last === undefined) throw error;
    const headers = new Headers(last.headers);
    headers.set(keptHeader, '1');
    return new Response(last.body, { status: last.status, headers });
  }
}
