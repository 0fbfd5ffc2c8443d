import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DIST, serveFolder } from '../tools/static-server.ts';
import { test } from './app.ts';

/** A copy of the built site that a test may change while it is served. `folder` and `address` are anew before each test of the group it is called in. */
export function ownSite(): { folder: string; address: string } {
  const site = { folder: '', address: '' };
  let server: Server;
  test.beforeEach(async () => {
    site.folder = mkdtempSync(join(tmpdir(), 'tendbook-'));
    cpSync(DIST, site.folder, { recursive: true });
    server = await serveFolder(0, `${site.folder}/`);
    site.address = `http://localhost:${(server.address() as AddressInfo).port}/`;
  });
  test.afterEach(() => {
    server.closeAllConnections();
    server.close();
    rmSync(site.folder, { recursive: true, force: true });
  });
  return site;
}
