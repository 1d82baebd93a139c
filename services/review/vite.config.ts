import { defaultClientConditions, defineConfig } from 'vite';

/** Three comes as a chunk of its own: the daily pages do not wait for it. Nothing is put inline, for the content security policy lets nothing inline run. */
export default defineConfig({
  resolve: { conditions: ['source', ...defaultClientConditions] },
  build: {
    target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false },
    rollupOptions: { output: { manualChunks: (id) => (/node_modules\/three\//.test(id) ? 'three' : undefined) } },
  },
  worker: { format: 'es' },
});
