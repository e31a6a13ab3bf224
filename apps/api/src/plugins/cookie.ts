import cookie from '@fastify/cookie';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';

/** The sign-in cookie. Over TLS it carries the `__Host-` prefix, which browsers tie to this host alone. */
export default fp(async (app: FastifyInstance) => app.register(cookie), { name: 'cookie' });

const isSecure = (app: FastifyInstance) => app.publicUrl.startsWith('https://');
const nameOf = (app: FastifyInstance) => (isSecure(app) ? '__Host-huelot' : 'huelot');

/** The token the browser sent, or `null`. */
export const readToken = (request: FastifyRequest): string | null =>
  request.cookies[nameOf(request.server)] ?? null;

/** Hands the browser a token; scripts cannot read it, other sites cannot send it. */
export function giveToken(reply: FastifyReply, token: string, maxAgeS: number): void {
  reply.setCookie(nameOf(reply.server), token, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: isSecure(reply.server),
    maxAge: maxAgeS,
  });
}

/** Takes the token back. */
export function takeToken(reply: FastifyReply): void {
  reply.clearCookie(nameOf(reply.server), { path: '/', secure: isSecure(reply.server) });
}
