import { once } from 'node:events';
import { connect } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { databaseServers, Service } from './service.ts';
import { becomeOwner, customer, customerNames, signIn, type Cookie } from './shop.ts';

/** A request of which half is sent; `finish` sends the rest and returns the answer as it came. */
async function halfWritten(service: Service, { name, cookie }: { name: string; cookie: Cookie }) {
  const body = JSON.stringify(customer(name));
  const { port, host } = new URL(service.url);
  const socket = connect(Number(port), '127.0.0.1');
  let answer = '';
  socket.on('data', (chunk: Buffer) => (answer += chunk.toString()));
  await once(socket, 'connect');
  const head = [
    'POST /api/customers HTTP/1.1',
    `Host: ${host}`,
    'Content-Type: application/json',
    `Content-Length: ${body.length}`,
    `Cookie: ${cookie}`,
    '',
    '',
  ].join('\r\n');
  socket.write(head + body.slice(0, 20));
  await sleep(300);
  return async () => {
    socket.write(body.slice(20));
    if (!socket.closed) await once(socket, 'close');
    return answer;
  };
}

/** As an administrator stops it, and as Ctrl-C in a terminal does, which reaches every process of the group. */
const stops: Record<string, (service: Service) => void> = {
  SIGTERM: (service) => service.process.kill('SIGTERM'),
  'Ctrl-C': (service) => process.kill(-service.pid, 'SIGINT'),
};

test.each(Object.keys(stops))(
  '%s finishes the request in flight, then stops the database',
  async (options) => {
    const service = await Service.start();
    const finish = await halfWritten(service, { name: 'written-1-1', cookie: await becomeOwner(service) });
    stops[options]?.(service);
    await sleep(500);
    expect(service.isRunning).toBe(true);
    expect(await service.health()).toBe(0);

    expect(await finish()).toMatch(/^HTTP\/1.1 201 /);
    expect(await service.ended()).toBe(0);
    expect(databaseServers(service.dataDir)).toEqual([]);

    const again = await Service.start({ dataDir: service.dataDir });
    expect(await customerNames(again, await signIn(again))).toEqual(new Set(['written-1-1']));
  },
);

test('a second signal, later, ends it at once, and the database stops all the same', async () => {
  const service = await Service.start();
  await halfWritten(service, { name: 'written-2-1', cookie: await becomeOwner(service) });
  service.process.kill('SIGTERM');
  await sleep(1_500);
  expect(service.isRunning).toBe(true);
  service.process.kill('SIGTERM');
  expect(await service.ended()).toBe(1);
  while (databaseServers(service.dataDir).length > 0) await sleep(50);
});

test('a stop that is asked for while it starts is kept', async () => {
  const service = await Service.launch();
  while (databaseServers(service.dataDir).length === 0) await sleep(20);
  expect(await service.stop()).toBe(0);
  expect(databaseServers(service.dataDir)).toEqual([]);
});
