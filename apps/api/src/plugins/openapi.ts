import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import { getDescription, readDescription, type Endpoint } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { registerRoute } from '../http/route.ts';
import { components, tags, unusedSchemas } from './openapi-components.ts';
import { completeOperation, describeEndpoint, type Operation } from './openapi-operation.ts';

interface Described {
  paths?: Record<string, Record<string, Operation>>;
  components?: { schemas?: Record<string, unknown> };
}

/** The description of the API, made from the same contracts that check requests, and a page to read it on. */
export default fp(
  async (app: FastifyInstance) => {
    const endpoints = new Map<string, Endpoint>();
    await app.register(swagger, {
      openapi: {
        openapi: '3.1.0',
        info: {
          title: 'Huelot',
          version: app.release,
          description:
            'The record of a shop that colours metal anodically: quotations, travelers, tankside sign-off, trace.',
          license: { name: 'Apache License 2.0', identifier: 'Apache-2.0' },
        },
        servers: [{ url: '/', description: 'This installation' }],
        tags,
        components,
      },
      transform: (route) => {
        const described = jsonSchemaTransform(route);
        const { endpoint } = route.route.config ?? {};
        if (endpoint === undefined) return described;
        endpoints.set(endpoint.name, endpoint);
        return { ...described, schema: { ...described.schema, ...describeEndpoint(endpoint) } };
      },
      transformObject: (document) => {
        const complete = jsonSchemaTransformObject(document);
        const { paths = {}, components: { schemas = {} } = {} } = complete as Described;
        for (const operation of Object.values(paths).flatMap((methods) => Object.values(methods))) {
          const endpoint = endpoints.get(operation.operationId);
          if (endpoint !== undefined) completeOperation(endpoint, operation);
        }
        for (const name of unusedSchemas(complete as Described)) delete schemas[name];
        return complete;
      },
    });
    // Its routes are its own; who may see them is ours to say, before it adds them.
    app.addHook('onRoute', (route) => {
      const { path, access } = readDescription;
      if (route.url === `/api${path}` || route.url.startsWith(`/api${path}/`))
        route.config = { ...route.config, access };
    });
    await app.register(swaggerUi, {
      routePrefix: `/api${readDescription.path}`,
      staticCSP: true,
      uiConfig: { docExpansion: 'none' },
    });
    registerRoute(app, getDescription, () => Promise.resolve(app.swagger()));
  },
  { name: 'openapi' },
);
