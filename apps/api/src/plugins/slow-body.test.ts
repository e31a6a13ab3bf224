import { connect, type AddressInfo } from 'node:net';
import { expect, test } from 'vitest';
import { testApp } from '../../../../tests/support/app.ts';

const { app } = await testApp({ requestTimeoutMs: 800 });

test('a sender who dribbles a body is cut off, and the service goes on', async () => {
  await app.listen({ host: '127.0.0.1', port: 0 });
  const { port } = app.server.address() as AddressInfo;
  const answer = await new Promise<string>((resolve) => {
    let received = '';
    const socket = connect(port, '127.0.0.1');
    socket.on('data', (data) => (received += data.toString()));
    // A reset is a cut as well.
    socket.on('error', () => undefined);
    socket.write('POST /api/sign-in HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\n');
    socket.write('content-length: 100000\r\n\r\n{"name":"');
    const dribble = setInterval(() => socket.write('x'), 50);
    socket.on('close', () => {
      clearInterval(dribble);
      resolve(received);
    });
  });
  expect(answer).toMatch(/^HTTP\/1\.1 408 /);
  expect((await app.inject('/api/health/live')).statusCode).toBe(200);
});
