import cookie from '@fastify/cookie';
import { signedInCookie } from '@huelot/contracts';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';

/** The sign-in cookie. Over TLS it carries the `__Host-` prefix, which browsers tie to this host alone. */
export default fp(async (app: FastifyInstance) => app.register(cookie), { name: 'cookie' });

const isSecure = (app: FastifyInstance) => app.publicUrl.startsWith('https://');
const nameOf = (app: FastifyInstance) => (isSecure(app) ? '__Host-huelot' : 'huelot');

/** The token the browser sent, or `null`. */
export const readToken = (request: FastifyRequest): string | null =>
  request.cookies[nameOf(request.server)] ?? null;

/** Hands the browser a token; scripts cannot read it, other sites cannot send it. What they can read is that it is there. */
export function giveToken(reply: FastifyReply, token: string, maxAgeS: number): void {
  const of = { path: '/', sameSite: 'lax', secure: isSecure(reply.server), maxAge: maxAgeS } as const;
  reply.setCookie(nameOf(reply.server), token, { ...of, httpOnly: true });
  reply.setCookie(signedInCookie, '1', of);
}

const deviceNameOf = (app: FastifyInstance) => `${nameOf(app)}-device`;

/** The token by which this browser is known, or `null`. */
export const readDevice = (request: FastifyRequest): string | null =>
  request.cookies[deviceNameOf(request.server)] ?? null;

/** Makes this browser known; it stays so after signing out. The token opens nothing. */
export function giveDevice(reply: FastifyReply, token: string, maxAgeS: number): void {
  reply.setCookie(deviceNameOf(reply.server), token, {
    path: '/',
    sameSite: 'lax',
    secure: isSecure(reply.server),
    httpOnly: true,
    maxAge: maxAgeS,
  });
}

const stepNameOf = (app: FastifyInstance) => `${nameOf(app)}-step`;

/** The token of a sign-in that waits for its second factor, or `null`. */
export const readStep = (request: FastifyRequest): string | null =>
  request.cookies[stepNameOf(request.server)] ?? null;

/** Names a sign-in that waits for its second factor; it opens nothing by itself. */
export function giveStep(reply: FastifyReply, token: string, maxAgeS: number): void {
  reply.setCookie(stepNameOf(reply.server), token, {
    path: '/',
    sameSite: 'lax',
    secure: isSecure(reply.server),
    httpOnly: true,
    maxAge: maxAgeS,
  });
}

/** Takes the token back. */
export function takeToken(reply: FastifyReply): void {
  const of = { path: '/', secure: isSecure(reply.server) };
  reply.clearCookie(nameOf(reply.server), of);
  reply.clearCookie(signedInCookie, of);
}
