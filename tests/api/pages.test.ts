import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { workshopService } from '../support/api-service.js';

const workshop = workshopService();
const pages = new URL('../../services/api/pages/', import.meta.url);

describe('the pages for the browser', () => {
  it.each([['/', 'text/html', 'openapi.json'], ['/welcome', 'text/html', 'The first account'], ['/welcome.js', 'text/javascript', '/api/v1/first-account'], ['/pages.css', 'text/css', 'color-scheme']])(
    '%s is there, under the policy that lets nothing in from elsewhere', async (path, type, words) => {
      const response = await fetch(workshop().service.url + path);
      expect(response.status).toBe(200);
      expect(response.headers.get('content-type')).toContain(type);
      expect(response.headers.get('content-security-policy')).toContain("default-src 'self'");
      expect(await response.text()).toContain(words);
    },
  );

  it('give nothing but their own files', async () => {
    for (const path of ['/..%2f..%2fpackage.json', '/%2e%2e/package.json', '/.gitignore', '/nothing']) {
      const response = await fetch(workshop().service.url + path);
      expect([path, response.status]).toEqual([path, 404]);
      expect(response.headers.get('content-type')).toContain('application/problem+json');
    }
  });

  it('hold nothing that the policy would stop', () => {
    for (const name of readdirSync(pages).filter((file) => file.endsWith('.html'))) {
      const html = readFileSync(new URL(name, pages), 'utf8');
      expect(html, name).not.toMatch(/<style|style=|\son\w+=|<script(?![^>]*\ssrc=)|https?:\/\//);
    }
  });
});
