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

/** Takes the token back. */
export function takeToken(reply: FastifyReply): void {
  const of = { path: '/', secure: isSecure(reply.server) };
  reply.clearCookie(nameOf(reply.server), of);
  reply.clearCookie(signedInCookie, of);
}
