import { defineConfig } from 'drizzle-kit';

/** npx drizzle-kit generate, in this folder, writes the next migration from the difference between the tables and the last one. */
export default defineConfig({
  dialect: 'postgresql',
  casing: 'snake_case',
  schema: ['./dist/records/schema.js', './dist/records/working-tables.js'],
  out: './migrations',
});
