import { Problem, sentAtHeader, signedInCookie, type Endpoint } from '@huelot/contracts';
import type { z } from 'zod';
import { connection } from './connection.svelte.ts';
import { ApiProblem } from './problem.ts';
import { keptHeader } from './kept-header.ts';
import { proving } from './proving.svelte.ts';
import { learnServerTime } from './server-clock.ts';
import { withKey } from './write-keys.ts';

export { ApiProblem, asProblem } from './problem.ts';

type Loose<T> = { [K in keyof T]: T[K] | undefined };
type Part<Name extends string, T> = [T] extends [undefined]
  ? unknown
  : Record<string, never> extends T
    ? { [K in Name]?: T }
    : { [K in Name]: T };
type Versioned<E extends Endpoint> = E['versioned'] extends false ? unknown : { version?: number };

/** What a call is given: the parts its endpoint declares, typed by it. */
export type Call<E extends Endpoint> = Part<'params', z.output<E['params']>> &
  Part<'query', Loose<z.output<E['query']>>> &
  Part<'body', z.input<E['body']>> &
  Versioned<E> & {
    /** A key that outlives the page, of a write that is kept until it is sent. Every other write gets one by itself. */
    idempotencyKey?: string;
    signal?: AbortSignal;
  };
type Arguments<E extends Endpoint> =
  Record<string, never> extends Call<E> ? [call?: Call<E>] : [call: Call<E>];

interface AnyCall {
  params?: Record<string, unknown>;
  query?: Record<string, unknown>;
  body?: unknown;
  version?: number;
  idempotencyKey?: string;
  signal?: AbortSignal;
}

/**
 * Calls the API. The reply is parsed by the endpoint's own schema; every failure is an `ApiProblem`.
 *
 * @example
 * const part = await api(getPart, { params: { id: 12 } });
 * await api(updatePart, { params: { id: 12 }, body, version: part.version });
 */
export async function api<E extends Endpoint>(
  endpoint: E,
  ...[input]: Arguments<E>
): Promise<z.output<E['reply']>> {
  if (endpoint.access !== 'anyone' && !mayBeSignedIn()) throw nobody();
  const call = (input ?? {}) as AnyCall;
  const headers = new Headers({ accept: 'application/json' });
  if (call.version !== undefined) headers.set('if-match', `"${call.version}"`);
  if (call.idempotencyKey !== undefined) headers.set(sentAtHeader, new Date().toISOString());
  const url = address(endpoint, call);
  const request: RequestInit = { method: endpoint.method, headers };
  if (call.signal) request.signal = call.signal;
  const content = JSON.stringify(call.body ?? {});
  if (endpoint.method !== 'GET') {
    headers.set('content-type', 'application/json');
    request.body = content;
  }
  const sendIt = async () => {
    let response = await send(url, request);
    const { proof } = endpoint;
    if (!response.ok && proof !== null)
      response = await proveAndResend(
        response,
        () => proving.ask(proof),
        () => send(url, request),
      );
    if (!response.ok) throw problemOf(response.status, await response.text());
    return parseReply(endpoint, response.status === 204 ? {} : await readJson(response));
  };
  if (endpoint.keyless !== null) return sendIt();
  const words = `${endpoint.method} ${url} ${content}`;
  return withKey({ words, key: call.idempotencyKey }, (key) => {
    headers.set('idempotency-key', key);
    return sendIt();
  });
}

/**
 * The address of a reading endpoint, for links and downloads.
 *
 * @example
 * <a href={endpointUrl(exportParts, { query: { search } })} download>CSV</a>
 */
export function endpointUrl<E extends Endpoint>(endpoint: E, ...[input]: Arguments<E>): string {
  return address(endpoint, input ?? {});
}

/**
 * Reads what is not JSON: the bytes of an endpoint's answer.
 *
 * @example
 * const bytes = await apiBytes(getMeasurementPreview, { params: { id: 12 } });
 */
export async function apiBytes<E extends Endpoint>(endpoint: E, call: Call<E>): Promise<ArrayBuffer> {
  const { signal } = call as AnyCall;
  const response = await send(address(endpoint, call), signal ? { signal } : {});
  if (!response.ok) throw problemOf(response.status, await response.text());
  return response.arrayBuffer();
}

/**
 * Sends files as multipart form data, with progress from 0 to 1. The reply is parsed by the endpoint's schema.
 *
 * @example
 * const form = new FormData();
 * form.set('file', file);
 * await upload(addPartFile, { params: { id }, form, onProgress: (share) => (progress = share) });
 */
export function upload<E extends Endpoint>(
  endpoint: E,
  input: Part<'params', z.output<E['params']>> & {
    form: FormData;
    onProgress?: (share: number) => void;
    signal?: AbortSignal;
  },
): Promise<z.output<E['reply']>> {
  const url = address(endpoint, input);
  return withKey({ words: `${endpoint.method} ${url} ${wordsOf(input.form)}` }, (key) =>
    sendForm(endpoint, { ...input, url, key }),
  );
}

/** The same file is the same upload: its name, size and time of change tell it from another. */
const wordsOf = (form: FormData) =>
  JSON.stringify(
    [...form].map(([name, value]) =>
      value instanceof File ? [name, value.name, value.size, value.lastModified] : [name, value],
    ),
  );

function sendForm<E extends Endpoint>(
  endpoint: E,
  input: {
    url: string;
    key: string;
    form: FormData;
    onProgress?: (share: number) => void;
    signal?: AbortSignal;
  },
): Promise<z.output<E['reply']>> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open(endpoint.method, input.url);
    request.setRequestHeader('idempotency-key', input.key);
    request.upload.addEventListener('progress', (event) => {
      if (event.lengthComputable) input.onProgress?.(event.loaded / event.total);
    });
    request.addEventListener('error', () => reject(noAnswer()));
    request.addEventListener('abort', () => reject(new DOMException('Cancelled', 'AbortError')));
    request.addEventListener('load', () => {
      connection.answered();
      try {
        if (request.status >= 400) throw problemOf(request.status, request.responseText);
        resolve(parseReply(endpoint, JSON.parse(request.responseText)));
      } catch (error) {
        reject(error instanceof ApiProblem ? error : unreadable(request.status, error));
      }
    });
    input.signal?.addEventListener('abort', () => request.abort());
    request.send(input.form);
  });
}

/** What takes the credential again asks for it, unless it was given a moment ago; then it is sent as it was. */
async function proveAndResend(
  refused: Response,
  prove: () => Promise<boolean>,
  resend: () => Promise<Response>,
): Promise<Response> {
  const problem = Problem.safeParse(jsonOf(await refused.clone().text()));
  if (problem.data?.code !== 'prove-again' || !(await prove())) return refused;
  return resend();
}

/** Without the cookie the server could only refuse, and the browser would report that as a fault of the page. */
const mayBeSignedIn = () => document.cookie.split('; ').includes(`${signedInCookie}=1`);

function nobody(): ApiProblem {
  connection.signedOut();
  return new ApiProblem({
    code: 'not-signed-in',
    status: 401,
    detail: 'Sign in first; your sign-in may have ended.',
  });
}

function address(endpoint: Endpoint, { params = {}, query = {} }: AnyCall): string {
  const path = endpoint.path.replace(/:(\w+)/g, (_, name: string) =>
    encodeURIComponent(String(params[name])),
  );
  const search = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) {
    for (const one of Array.isArray(value) ? value : [value]) {
      if (one !== undefined && one !== null && one !== '') search.append(name, String(one));
    }
  }
  const text = search.toString();
  return `/api${path}${text === '' ? '' : `?${text}`}`;
}

async function send(url: string, request: RequestInit): Promise<Response> {
  try {
    const response = await fetch(url, request);
    // An answer the service worker kept says that the network is down.
    if (response.headers.has(keptHeader)) connection.lost();
    else {
      connection.answered();
      learnServerTime(response.headers.get('date'));
    }
    return response;
  } catch (error) {
    if (request.signal?.aborted) throw error;
    throw noAnswer(error);
  }
}

async function readJson(response: Response): Promise<unknown> {
  try {
    return await response.json();
  } catch (error) {
    throw unreadable(response.status, error);
  }
}

function parseReply<E extends Endpoint>(endpoint: E, json: unknown): z.output<E['reply']> {
  const parsed = endpoint.reply.safeParse(json);
  if (!parsed.success) throw unreadable(endpoint.status, parsed.error);
  return parsed.data as z.output<E['reply']>;
}

function noAnswer(cause?: unknown): ApiProblem {
  connection.lost();
  const detail =
    'The server cannot be reached. What you entered is still here; try again when the network is back.';
  return new ApiProblem({ code: 'offline', detail, cause });
}

function unreadable(status: number, cause: unknown): ApiProblem {
  const detail =
    'This page does not understand the server’s answer. Reload the page: it may be older than the server.';
  return new ApiProblem({ code: 'unreadable', detail, status, cause });
}

function problemOf(status: number, text: string): ApiProblem {
  const parsed = Problem.safeParse(jsonOf(text));
  if (!parsed.success) {
    // A proxy in front answers in its own words while the server behind it is away.
    return status >= 502 && status <= 504 ? noAnswer(parsed.error) : unreadable(status, parsed.error);
  }
  if (parsed.data.code === 'not-signed-in') connection.signedOut();
  return new ApiProblem(parsed.data);
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
