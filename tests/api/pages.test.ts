import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { workshopService } from '../support/api-service.ts';

const workshop = workshopService();
const get = (path: string) => fetch(workshop().service.url + path);

describe('the pages', () => {
  it.each(['/', '/welcome', '/arrivals', '/bench/some-cast'])('answers %s with the one page of the app', async (path) => {
    const response = await get(path);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toContain('text/html');
    expect(response.headers.get('cache-control')).toBe('no-store');
    expect(response.headers.get('content-security-policy')).toContain("default-src 'self'");
    expect(await response.text()).toContain('<div id="app">');
  });

  it('holds nothing that the policy would stop', () => {
    const html = readFileSync(new URL('../../services/review/dist/index.html', import.meta.url), 'utf8');
    expect(html).not.toMatch(/<style|style=|\son\w+=|<script(?![^>]*\ssrc=)|https?:\/\//);
  });

  it('serves the files of the build for good, for their names change with their content', async () => {
    const script = /src="(\/assets\/[^"]+\.js)"/.exec(await (await get('/')).text())?.[1] ?? '';
    const response = await get(script);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toContain('text/javascript');
    expect(response.headers.get('cache-control')).toContain('immutable');
  });

  it.each(['/assets/none.js', '/api/v1/nothing', '/..%2f..%2fpackage.json', '/%2e%2e/package.json', '/.gitignore'])('answers %s, which is not there, as a problem', async (path) => {
    const response = await get(path);
    expect(response.status).toBe(404);
    expect(response.headers.get('content-type')).toContain('application/problem+json');
  });
});
