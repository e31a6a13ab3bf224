import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';

/** The description of the API, made from the same contracts that check requests, and a page to read it on. */
export default fp(
  async (app: FastifyInstance) => {
    await app.register(swagger, {
      openapi: {
        openapi: '3.1.0',
        info: {
          title: 'Huelot',
          version: app.release,
          description:
            'The record of a shop that colours metal anodically: quotations, travelers, tankside sign-off, trace.',
        },
      },
      transform: jsonSchemaTransform,
      transformObject: jsonSchemaTransformObject,
    });
    // Its routes are its own; who may see them is ours to say, before it adds them.
    app.addHook('onRoute', (route) => {
      if (route.url.startsWith('/api/docs')) route.config = { ...route.config, access: 'signed-in' };
    });
    await app.register(swaggerUi, {
      routePrefix: '/api/docs',
      staticCSP: true,
      uiConfig: { docExpansion: 'none' },
    });
    app.get('/api/openapi.json', { config: { access: 'signed-in' }, schema: { hide: true } }, () =>
      app.swagger(),
    );
  },
  { name: 'openapi' },
);
